/**
 * Why a rule reads nothing off a row of readings: the sentences of the verdict's working that
 * speak of it, before there is a reading to be judged.
 */

import * as bare from "./judge.js";
import { readItem } from "./measured.js";
import * as relay from "./relay_times.js";
import { readsRow } from "./row_lines.js";
import { baseOf } from "./said.js";
import { sentenceOf } from "./working.js";

/** The sentences on the row `kind` that leave a reading under these conditions unjudged. */
export function rowReasons(rule, kind, conditions, procedures) {
  if (!readsRow(rule, kind, conditions)) return [];
  const reading = { key: "", text: "1", unit: rule.unit, conditions };
  const [judged] = bare.judge([readItem({ rule, reading }, procedures)], relay);
  const state = { ...judged, base: baseOf(rule, reading) };
  const found = state.steps.filter(({ verdict, part }) => verdict === "unjudged" && part?.series === kind && !part.kind);
  return [...new Set(found.flatMap((step) => sentenceOf(state, step)))];
}

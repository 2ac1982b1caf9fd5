/**
 * How a reading was compared with what is expected, and with the baseline.
 */

import { join, say } from "./catalogue.js";
import { highWords, lowWords } from "./limits.js";
import { nameOf } from "./names.js";
import { amount, plain, saidUnit } from "./numbers.js";
import { shown } from "./shown.js";

/** What is expected, how it was found, and how far from it is allowed. */
export function expectedValueWords(state, { part, expected, within }) {
  const parts = {
    expected: shown(state, expected),
    within: amount(within, state.base, expected),
    margin: marginWords(state, part),
  };
  const { expected: source } = part;
  if (typeof source === "number") return say("expected_value", parts);
  parts.condition = `${nameOf(state, source.on, source.label)} ${givenWords(state, source)}`;
  if (source.points) return say("expected_value.at", parts);
  const { times = 1, plus = 0 } = source;
  const id = plus ? "expected_value.of" : "expected_value.times";
  return say(id, { ...parts, times: plain(times), plus: plain(plus) });
}

function marginWords(state, { pct = 0, within_deg: within = 0, fixed = within }) {
  if (!fixed) return say("expected_value.share", { pct: plain(pct) });
  if (!pct) return say("expected_value.fixed");
  return say("expected_value.greater", { pct: plain(pct), fixed: shown(state, fixed) });
}

/** The value that the expected one is found at; empty where it is not known. */
function givenWords({ values }, { on, unit }) {
  return values[on] ? `${plain(values[on].corrected)} ${saidUnit(unit)}`.trim() : "";
}

/** Why nothing is expected: not known, or beyond the points. */
export function noExpectedWords(state, { part }) {
  const { on, label, points = [[0]] } = part.expected;
  const what = nameOf(state, on, label);
  const value = givenWords(state, part.expected);
  if (!value) return say("no_expected", { what });
  const [first, last] = [points[0], points.at(-1)].map(([at]) => plain(at));
  return say("no_expected.beyond", { what, value, first, last });
}

export function leastOfBaselineWords(state, step) {
  return lowWords(withBoth(state, step), step, limitName(state, step, step.part.low_times));
}

export function mostOfBaselineWords(state, step) {
  return highWords(withBoth(state, step), step, limitName(state, step, step.part.high_times));
}

function limitName(state, { code, part }, times) {
  return say(`limit.${code}`, { times: plain(times), baseline: shown(state, part.value) });
}

/** The reading with U of both, the baseline's with its own. */
const withBoth = (state, { part, guard }) => ({ ...state, expanded: guard * part.value });

/** What was expected and what was observed. */
export function expectedWords(state, { verdict, part, outcome }) {
  const { met, missed } = part;
  if (outcome === "not_fitted" && ![...met, ...missed].includes(outcome)) {
    return say(`expected.not_fitted.${verdict}`);
  }
  if (met.includes("as_expected") && ["as_expected", "not_as_expected"].includes(outcome)) return say(`expected.${outcome}`);
  const words = met.map((one) => say(`outcome.${one}`));
  const wanted = words.length > 0 ? join("list.or", words) : "";
  return say(`expected.${verdict}`, { met: wanted, outcome: say(`outcome.${outcome}`) });
}

/**
 * The words of a judgement: its reason, its working step by step, its sources.
 */

import { notesOf } from "./notes/said.js";
import { correctedWords, notCorrectedWords } from "./words/corrections.js";
import { gateWords, readWords } from "./words/gates.js";
import { aloneWords, isLowestWords, nearLowestWords } from "./words/group.js";
import { highWords, lowWords } from "./words/limits.js";
import { checkSources, citesOf, citeWords } from "./words/sources.js";
import {
  belowPickupWords,
  curveWords,
  multipleWords,
  noBandWords,
  noMultipleWords,
  noTimingPointWords,
  noTripWords,
  settingsWords,
  toleranceWords,
} from "./words/timing.js";
import { measuredPickupWords, timedWords } from "./words/measured_pickup.js";
import { durationWords, levelWords } from "./words/withstand.js";

// code of a step -> its sentence, or several
const WORDS = {
  broke_down: () => "It broke down.",
  gate: gateWords,
  corrected: correctedWords,
  not_corrected: notCorrectedWords,
  number_wanted: () => "A number is wanted here, not an outcome.",
  outcome_wanted: () => "A withstand is judged by held or broke_down, not a number.",
  no_criterion: () => "No criterion applies to this reading.",
  minimum: (state, step) => lowWords(state, step, "the minimum"),
  maximum: (state, step) => highWords(state, step, "the maximum"),
  earliest: (state, step) => lowWords(state, step, "the earliest"),
  latest: (state, step) => highWords(state, step, "the latest"),
  level: levelWords,
  duration: durationWords,
  settings: settingsWords,
  no_multiple: noMultipleWords,
  multiple: multipleWords,
  below_pickup: belowPickupWords,
  no_timing_point: noTimingPointWords,
  curve: curveWords,
  no_band: noBandWords,
  tolerance: toleranceWords,
  measured_pickup: measuredPickupWords,
  timed: timedWords,
  no_trip: noTripWords,
  alone: aloneWords,
  all_over_range: () => "Every reading of the group is over range.",
  is_lowest: isLowestWords,
  near_lowest: nearLowestWords,
};

/** What `judge` of judge.js gives for a reading, as the judgement with its words. */
export function inWords(state) {
  checkSources(state.rule);
  const said = state.steps.map((step) => ({
    verdict: step.verdict,
    sentences: [WORDS[step.code](state, step)].flat(),
  }));
  const reasons = said.filter(({ verdict }) => verdict === state.verdict);
  const notes = notesOf(state);
  const cite = citesOf(state, notes);
  return {
    verdict: state.verdict,
    value: state.value,
    unit: state.unit,
    corrected: state.corrected,
    corrected_unit: state.numeric ? state.rule.unit : null,
    limit_low: numberOrNull(state.limit_low),
    limit_high: numberOrNull(state.limit_high),
    uncertainty: state.exact ? state.expanded : null,
    reason: [...new Set(sentencesOf(reasons))].join(" "),
    cite: cite.map((source) => ({ ...source })),
    working: [
      ...readWords(state),
      ...sentencesOf(said),
      ...sentencesOf(notes),
      ...cite.map(citeWords),
    ],
  };
}

/** A limit; null where there is none. */
function numberOrNull(limit) {
  return Number.isFinite(limit) ? limit : null;
}

function sentencesOf(said) {
  return said.flatMap(({ sentences }) => sentences);
}

/**
 * The words of a judgement: its reason, its working step by step, its sources.
 */

import { notesOf } from "./notes/said.js";
import { baseOf, saidUnitOf } from "./said.js";
import { bandWords, nearAngleWords } from "./words/bands.js";
import { say } from "./words/catalogue.js";
import { derivedWords, notDerivedWords } from "./words/derived.js";
import {
  expectedValueWords,
  expectedWords,
  leastOfBaselineWords,
  mostOfBaselineWords,
  noExpectedWords,
} from "./words/expected.js";
import { correctedWords, notCorrectedWords } from "./words/corrections.js";
import { carriedWords, notCarriedWords, unresolvedWords } from "./words/gas.js";
import { gateWords, readWords } from "./words/gates.js";
import {
  aloneWords,
  isLowestWords,
  nearLowestWords,
  oddLowestWords,
  overLowestWords,
} from "./words/group.js";
import { highWords, lowWords } from "./words/limits.js";
import { comparedName } from "./words/names.js";
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
  gate: gateWords,
  carried: carriedWords,
  not_carried: notCarriedWords,
  unresolved: unresolvedWords,
  corrected: correctedWords,
  not_corrected: notCorrectedWords,
  minimum: lowerLimitWords,
  maximum: upperLimitWords,
  earliest: lowerLimitWords,
  latest: upperLimitWords,
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
  is_lowest: isLowestWords,
  near_lowest: nearLowestWords,
  over_lowest: overLowestWords,
  odd_lowest: oddLowestWords,
  derived: derivedWords,
  not_derived: notDerivedWords,
  expected_value: expectedValueWords,
  no_expected: noExpectedWords,
  least: lowerLimitWords,
  most: upperLimitWords,
  band: bandWords,
  near_angle: nearAngleWords,
  least_of_baseline: leastOfBaselineWords,
  most_of_baseline: mostOfBaselineWords,
  expected: expectedWords,
};

// A step that always says the same is an id of the catalogue itself.
const wordsOf = (state, step) =>
  WORDS[step.code]?.(comparedBy(state, step), step) ?? say(step.code);

/** The sentences of one step. */
export const sentenceOf = (state, step) => [wordsOf(state, step)].flat();

/** The state with the numbers of what the step compared: what its bound is `of`. */
function comparedBy(state, { part }) {
  if (!part?.kind || !part.of) return state;
  const value = state.values[part.of];
  const own = part.of === "reading" || state.rule.derive?.some(({ name }) => name === part.of);
  return { ...state, ...value, base: (own ? value?.base : part.unit) ?? "" };
}

function lowerLimitWords(state, step) {
  return ofWords(state, step, lowWords(state, step, say(`limit.${step.code}`)));
}

function upperLimitWords(state, step) {
  return ofWords(state, step, highWords(state, step, say(`limit.${step.code}`)));
}

/** The sentence with the name of what was compared, where that is not the reading. */
function ofWords(state, { part }, said) {
  const name = comparedName(state, part ?? {});
  return name ? say("limit.of", { name, said }) : said;
}

/** What `judge` of judge.js gives for a reading, as the judgement with its words. */
export function inWords(judged) {
  checkSources(judged.rule);
  const state = { ...judged, base: baseOf(judged.rule, judged.reading) };
  const said = state.steps.map((step) => ({
    verdict: step.verdict,
    sentences: sentenceOf(state, step),
    last: step.part?.last,
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
    ...saidIn(state),
    limit_low: numberOrNull(state.limit_low),
    limit_high: numberOrNull(state.limit_high),
    uncertainty: state.typed.low === state.typed.high ? state.expanded : null,
    reason: [...new Set(sentencesOf(reasons))].join(" "),
    cite: cite.map((source) => ({ ...source })),
    working: [
      ...readWords(state),
      ...sentencesOf(said.filter(({ last }) => !last)),
      ...sentencesOf(notes),
      ...new Set(cite.map(citeWords)), // several columns of one row are said once
      ...sentencesOf(said.filter(({ last }) => last)),
    ],
  };
}

/** The unit in which the numbers are said, where it is another than that of the rule. */
function saidIn({ numeric, rule, reading }) {
  const unit = numeric ? saidUnitOf(rule, reading) : null;
  return unit === null ? {} : { said_unit: unit };
}

/** A limit; null where there is none. */
function numberOrNull(limit) {
  return Number.isFinite(limit) ? limit : null;
}

function sentencesOf(said) {
  return said.flatMap(({ sentences }) => sentences);
}

/**
 * How a reading was compared with the lowest of its group, in words.
 */

import { say } from "./catalogue.js";
import { highWords } from "./limits.js";
import { figure, plain } from "./numbers.js";
import { bounded, shown, shownU } from "./shown.js";

/** Nothing is said of a reading that another bound judges by itself. */
export function aloneWords(state, { verdict, part }) {
  if (verdict === null) return [];
  return say(part.kind === "over_lowest" ? "alone.over_lowest" : "alone");
}

export function isLowestWords(state) {
  return say("is_lowest", { value: shown(state, state.corrected) });
}

export function nearLowestWords(state, step) {
  if (!state.exact || step.lowest_low < step.lowest_high) return openWords(state, step);
  return Number.isNaN(step.guard) ? simpleWords(state, step) : ratioWords(state, step);
}

function simpleWords(state, step) {
  const lowest = shown(state, step.lowest_high);
  const name = say("limit.lowest", { times: plain(step.part.times), lowest });
  return highWords({ ...state, expanded: null }, step, name);
}

function ratioWords(state, { verdict, part, lowest_high: lowest, guard }) {
  const ratio = state.corrected / lowest;
  return say(`near_lowest.${verdict}`, {
    value: shown(state, state.corrected),
    lowest: shown(state, lowest),
    ratio: figure(ratio),
    u: figure(ratio * guard, 2),
    times: plain(part.times),
  });
}

/** What was compared: the bounds, and on which side of them the rest lies. */
function openWords(state, step) {
  const { verdict, part, guard } = step;
  if (verdict === "unjudged") return say("near_lowest.unjudged");
  const compared = verdict === "within" ? step.lowest_low : step.lowest_high;
  const times = plain(part.times);
  const parts = { value: ownWords(state), lowest: lowestWords(state, step), times };
  if (Number.isNaN(guard)) {
    const limit = shown(state, part.times * compared);
    return say(`near_lowest.open.${verdict}`, { ...parts, limit });
  }
  const ratio = state.corrected / compared;
  const u = figure(ratio * guard, 2);
  return say(`near_lowest.open_u.${verdict}`, { ...parts, ratio: figure(ratio), u });
}

const ownWords = (state) => bounded(state, shown(state, state.corrected));

/** The lowest as the bound that was compared, where it is not known better. */
function lowestWords(state, { verdict, lowest_low: low, lowest_high: high }) {
  const met = verdict === "within";
  const lowest = shown(state, met ? low : high);
  if (low === high) return lowest;
  return say(met ? "lowest.at_least" : "lowest.at_most", { lowest });
}

/** How far over the lowest a reading lies. */
export function overLowestWords(state, step) {
  const { verdict, part, guard, lowest_low: low, lowest_high: high } = step;
  if (verdict === "unjudged") return say("over_lowest.unjudged");
  const by = shown(state, part.by);
  if (!state.exact || low < high) {
    const lowest = lowestWords(state, step);
    return say(`over_lowest.open.${verdict}`, { value: ownWords(state), by, lowest });
  }
  const parts = {
    value: shown(state, state.corrected),
    lowest: shown(state, high),
    difference: shown(state, state.corrected - high),
    by,
  };
  if (Number.isNaN(guard)) return say(`over_lowest.${verdict}`, parts);
  return say(`over_lowest.u.${verdict}`, { ...parts, u: shownU({ ...state, expanded: guard }) });
}

/** So many of the group are above that the lowest may be the odd one. */
export function oddLowestWords(state, { part, above, members }) {
  const parts = { above: String(above), members: String(members), times: plain(part.times) };
  return say("odd_lowest", parts);
}

/**
 * How a reading was compared with the lowest of its group, in words.
 */

import { highWords } from "./limits.js";
import { figure, plain } from "./numbers.js";
import { bounded, say } from "./said.js";

/** Nothing is said of a reading that a maximum judges by itself. */
export function aloneWords(state, { verdict }) {
  if (verdict === null) return [];
  return (
    "Nothing to compare with: no other reading of the group can be " +
    "judged, and no maker's limit is given."
  );
}

export function isLowestWords(state) {
  return `${say(state, state.corrected)} is the lowest of its group.`;
}

export function nearLowestWords(state, step) {
  const { low, high } = step.lowest;
  if (!state.exact || low < high) return openWords(state, step);
  return Number.isNaN(step.guard) ? simpleWords(state, step) : ratioWords(state, step);
}

function simpleWords(state, step) {
  const lowest = say(state, step.lowest.high);
  const name = `${plain(step.part.times)} × the lowest of its group ${lowest}, i.e.`;
  return highWords({ ...state, expanded: null }, step, name);
}

function ratioWords(state, { verdict, part, lowest, guard }) {
  const ratio = state.corrected / lowest.high;
  const said =
    `${say(state, state.corrected)} / the lowest ${say(state, lowest.high)} = ` +
    `${figure(ratio)}, U ${figure(ratio * guard, 2)}`;
  const limit = `${plain(part.times)} times the lowest of its group`;
  if (verdict === "within") return `${said}: at most ${limit}.`;
  if (verdict === "outside") return `${said}: more than ${limit}.`;
  return `${said}: too close to ${limit} to tell.`;
}

/** What was compared: the bounds, and on which side of them the rest lies. */
function openWords(state, { verdict, part, lowest, guard }) {
  if (verdict === "unjudged") {
    return "A reading of the group is only a bound: how they compare is not known.";
  }
  const met = verdict === "within";
  const times = plain(part.times);
  const said = bounded(state, say(state, state.corrected));
  const compared = met ? lowest.low : lowest.high;
  let known = say(state, compared);
  if (lowest.low < lowest.high) known = `(${met ? "at least" : "at most"} ${known})`;
  if (Number.isNaN(guard)) {
    return (
      `${said} is ${met ? "at most" : "above"} ${times} × the lowest ` +
      `of its group ${known}, i.e. ${say(state, part.times * compared)}.`
    );
  }
  const ratio = state.corrected / compared;
  return (
    `${said} / the lowest ${known} = ${met ? "at most" : "at least"} ` +
    `${figure(ratio)}, U ${figure(ratio * guard, 2)}: ` +
    `${met ? "at most" : "more than"} ${times} times the lowest of its group.`
  );
}

/**
 * Readings of a group compared with the lowest of them.
 */

import { compareHigh } from "./bounds.js";
import { atLeast } from "./near.js";
import { MARGINAL, OUTSIDE, UNJUDGED, WITHIN } from "./state.js";
import { figure, plain } from "./wording.js";

/**
 * The lowest of those that can be judged, as {low, high, members, state, relative};
 * null when there are none.
 *
 * `relative` is the greatest relative U of the readings that may be the lowest; null
 * where it is not known for all of them.
 *
 * An under-range reading makes the lowest uncertain from below, an over-range one
 * never lowers it from above.
 */
export function lowestOf(states) {
  if (states.length === 0) return null;
  const first = states.reduce((lowest, state) =>
    state.high < lowest.high || (state.high === lowest.high && state.low < lowest.low)
      ? state
      : lowest,
  );
  return {
    low: Math.min(...states.map(({ low }) => low)),
    high: first.high,
    members: states.length,
    state: first,
    relative: greatest(states.filter(({ low }) => low <= first.high).map(relativeU)),
  };
}

/** U over the value; null without an accuracy, and of nothing. */
function relativeU(state) {
  if (state.expanded === null || state.shown === 0) return null;
  return state.expanded / state.shown;
}

function greatest(values) {
  return values.includes(null) ? null : Math.max(0, ...values);
}

/** At most so many times the lowest of the group. */
export function compareLowest(state, bound, lowest, aloneIsJudged) {
  if (lowest.members < 2) {
    if (!aloneIsJudged) {
      state.find(
        UNJUDGED,
        "Nothing to compare with: no other reading of the group can be " +
          "judged, and no maker's limit is given.",
      );
    }
    return;
  }
  if (lowest.high === Infinity) {
    state.find(UNJUDGED, "Every reading of the group is over range.");
    return;
  }
  const { times } = bound;
  if (lowest.low < lowest.high) {
    compareOpen(state, times, lowest);
    return;
  }
  state.narrow({ high: times * lowest.high });
  if (!state.exact) {
    compareOpen(state, times, lowest);
  } else if (state === lowest.state) {
    state.find(WITHIN, `${state.say(state.shown)} is the lowest of its group.`);
  } else if (
    state.expanded === null ||
    lowest.state.expanded === null ||
    lowest.high === 0
  ) {
    compareSimply(state, times, lowest);
  } else {
    compareRatio(state, times, lowest);
  }
}

function compareSimply(state, times, lowest) {
  const said = state.say(lowest.high);
  const name = `${plain(times)} × the lowest of its group ${said}, i.e.`;
  const { expanded } = state;
  state.expanded = null;
  compareHigh(state, times * lowest.high, name);
  state.expanded = expanded;
}

/**
 * Guarded: U of the ratio combines both relative uncertainties.
 *
 * Root of the sum of squares, for a quotient of independent quantities:
 * JCGM 100:2008 (GUM) 5.1.6.
 */
function compareRatio(state, times, lowest) {
  const ratio = state.shown / lowest.high;
  const relative = Math.hypot(
    state.expanded / state.shown,
    lowest.state.expanded / lowest.high,
  );
  const expanded = ratio * relative;
  const said =
    `${state.say(state.shown)} / the lowest ${state.say(lowest.high)} = ` +
    `${figure(ratio)}, U ${figure(expanded, 2)}`;
  const limit = `${plain(times)} times the lowest of its group`;
  if (atLeast(times, ratio + expanded)) {
    state.find(WITHIN, `${said}: at most ${limit}.`);
  } else if (!atLeast(times, ratio - expanded)) {
    state.find(OUTSIDE, `${said}: more than ${limit}.`);
  } else {
    state.find(MARGINAL, `${said}: too close to ${limit} to tell.`);
  }
}

/**
 * Compare where the reading or the lowest is only a bound.
 *
 * What holds where the two may be nearest, with U at the bounds that are known, holds
 * wherever they are.
 */
function compareOpen(state, times, lowest) {
  const guard = guardOf(state, lowest);
  const spread = guard ?? 0;
  if (atLeast(times * lowest.low, state.high * (1 + spread))) {
    state.find(WITHIN, sayOpen(state, times, lowest, guard, true));
  } else if (!atLeast(times * lowest.high, state.low * (1 - spread))) {
    state.find(OUTSIDE, sayOpen(state, times, lowest, guard, false));
  } else {
    state.find(
      UNJUDGED,
      "A reading of the group is only a bound: how they compare is not known.",
    );
  }
}

/** U of the ratio over the ratio; null: compared simply. */
function guardOf(state, lowest) {
  const own = relativeU(state);
  if (own === null || lowest.relative === null) return null;
  return Math.hypot(own, lowest.relative);
}

/** What was compared: the bounds, and on which side of them the rest lies. */
function sayOpen(state, times, lowest, guard, met) {
  const said = state.bounded(state.say(state.shown));
  const compared = met ? lowest.low : lowest.high;
  let known = state.say(compared);
  if (lowest.low < lowest.high) known = `(${met ? "at least" : "at most"} ${known})`;
  if (guard === null) {
    return (
      `${said} is ${met ? "at most" : "above"} ${plain(times)} × the lowest ` +
      `of its group ${known}, i.e. ${state.say(times * compared)}.`
    );
  }
  const ratio = state.shown / compared;
  return (
    `${said} / the lowest ${known} = ${met ? "at most" : "at least"} ` +
    `${figure(ratio)}, U ${figure(ratio * guard, 2)}: ` +
    `${met ? "at most" : "more than"} ${plain(times)} times the lowest of its group.`
  );
}

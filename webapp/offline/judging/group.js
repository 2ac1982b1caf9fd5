/**
 * Readings of a group compared with the lowest of them.
 */

import { compareHigh } from "./bounds.js";
import { atLeast } from "./near.js";
import { MARGINAL, OUTSIDE, UNJUDGED, WITHIN } from "./state.js";
import { figure, plain } from "./wording.js";

/**
 * The lowest of those that can be judged, as {low, high, members, state}; null when
 * there are none.
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
  };
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
  const said = state.say(lowest.high);
  const name = `${plain(times)} × the lowest of its group ${said}, i.e.`;
  if (lowest.low < lowest.high || !state.exact) {
    compareOpen(state, lowest, times, name);
    return;
  }
  state.narrow({ high: times * lowest.high });
  if (state === lowest.state) {
    state.find(WITHIN, `${state.say(state.shown)} is the lowest of its group.`);
  } else if (
    state.expanded === null ||
    lowest.state.expanded === null ||
    lowest.high === 0
  ) {
    compareSimply(state, times * lowest.high, name);
  } else {
    compareRatio(state, times, lowest);
  }
}

function compareSimply(state, limit, name) {
  const { expanded } = state;
  state.expanded = null;
  compareHigh(state, limit, name);
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

/** Compare where the reading or the lowest is only a bound. */
function compareOpen(state, lowest, times, name) {
  if (atLeast(times * lowest.low, state.high)) {
    state.find(WITHIN, `At most ${name} ${state.say(times * lowest.low)}.`);
  } else if (!atLeast(times * lowest.high, state.low)) {
    state.find(OUTSIDE, `Above ${name} ${state.say(times * lowest.high)}.`);
  } else {
    state.find(
      UNJUDGED,
      "A reading of the group is only a bound: how they compare is not known.",
    );
  }
}

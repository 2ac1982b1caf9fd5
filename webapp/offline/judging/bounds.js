/**
 * Bounds: how a corrected reading is compared with a limit.
 */

import { equation, operatingTime } from "./curves.js";
import { atLeast } from "./near.js";
import { LARGEST_MULTIPLE, settingFault } from "./settings.js";
import { MARGINAL, OUTSIDE, UNJUDGED, WITHIN } from "./state.js";
import { figure, plain } from "./wording.js";

const MINUS = "−";

/** At least `limit`, beyond the guard band U where the accuracy is known. */
export function compareLow(state, limit, name = "the minimum") {
  if (limit <= 0) {
    // U must not reach below nothing: no quantity here is negative
    state.find(WITHIN, `No reading can be below ${name} ${state.say(limit)}.`);
    return;
  }
  const guard = state.expanded ?? 0;
  const met = atLeast(state.low - guard, limit);
  const missed = !atLeast(state.high + guard, limit);
  const side = atLeast(state.shown, limit) ? "at or above" : "below";
  say(state, limit, { name, met, missed, side, sign: MINUS });
}

/** At most `limit`, beyond the guard band U where the accuracy is known. */
export function compareHigh(state, limit, name = "the maximum") {
  const guard = state.expanded ?? 0;
  const met = atLeast(limit, state.high + guard);
  const missed = !atLeast(limit, state.low - guard);
  const side = atLeast(limit, state.shown) ? "at or below" : "above";
  say(state, limit, { name, met, missed, side, sign: "+" });
}

function say(state, limit, { name, met, missed, side, sign }) {
  const shown = state.say(state.shown);
  const said = `${name} ${state.say(limit)}`;
  let guarded = shown;
  if (state.expanded) {
    guarded = `${shown} ${away(state, sign, met)} U ${state.sayU()}`;
  }
  guarded = state.bounded(guarded);
  if (met) {
    state.find(WITHIN, `${guarded} is ${side} ${said}.`);
  } else if (missed) {
    state.find(OUTSIDE, `${guarded} is ${side} ${said}.`);
  } else if (state.exact) {
    state.find(MARGINAL, `${shown} is ${side} ${said} by less than U ${state.sayU()}.`);
  } else {
    state.find(
      UNJUDGED,
      `${guarded} is all that is known: it may lie on either side of ${said}.`,
    );
  }
}

/** The side on which U matters: of a bound, that which is known. */
function away(state, sign, met) {
  if (!state.exact) return state.high === Infinity ? MINUS : "+";
  if (met) return sign;
  return sign === MINUS ? "+" : MINUS;
}

/** Held for long enough at the level, and not far above it. */
export function withstand(state, bound) {
  state.narrow({ low: bound.level_kv });
  if (state.numeric) {
    state.find(UNJUDGED, "A withstand is judged by held or broke_down, not a number.");
    return;
  }
  reached(state, bound, state.condition("test_kv"));
  heldFor(state, bound.hold_s, state.condition("duration_s"));
}

function reached(state, bound, testKv) {
  const level = bound.level_kv;
  const wanted = `the field level ${plain(level)} kV`;
  if (testKv === null) {
    state.find(UNJUDGED, `The voltage reached is not known (${wanted}).`);
  } else if (!atLeast(testKv, level)) {
    state.find(UNJUDGED, `${plain(testKv)} kV does not reach ${wanted}.`);
  } else if (!atLeast(level * (1 + bound.over_pct / 100), testKv)) {
    state.find(
      MARGINAL,
      `${plain(testKv)} kV is more than ${plain(bound.over_pct)} % above ` +
        `${wanted}: the gear was stressed beyond it.`,
    );
  } else {
    state.find(WITHIN, `Held at ${plain(testKv)} kV; ${wanted}.`);
  }
}

function heldFor(state, holdS, durationS) {
  if (durationS === null) {
    state.find(UNJUDGED, "It is not known how long the voltage was held.");
  } else if (!atLeast(durationS, holdS)) {
    state.find(
      UNJUDGED,
      `Held for ${plain(durationS)} s; ${plain(holdS)} s are wanted.`,
    );
  } else {
    state.find(
      WITHIN,
      `Held for ${plain(durationS)} s of ${plain(holdS)} s wanted.`,
    );
  }
}

/**
 * The operating time at the multiple that was injected.
 *
 * A rule that was stored with an impossible setting judges nothing.
 */
export function timing(state, bound) {
  const faults = [
    settingFault("The pickup", bound.pickup_a),
    settingFault("The time dial", bound.time_dial),
  ].filter(Boolean);
  if (faults.length > 0) {
    for (const fault of faults) state.find(UNJUDGED, fault);
    return;
  }
  const appliedA = state.condition("applied_a");
  const multiple = appliedA / bound.pickup_a;
  if (multiple > LARGEST_MULTIPLE) {
    state.find(
      UNJUDGED,
      `${plain(appliedA)} A is out of all proportion to the pickup ` +
        `${plain(bound.pickup_a)} A: check both.`,
    );
    return;
  }
  state.working.push(
    `Multiple of pickup: ${plain(appliedA)} A / ${plain(bound.pickup_a)} A = ` +
      `${figure(multiple)}.`,
  );
  if (atLeast(1, multiple)) {
    belowPickup(state);
  } else if (!atLeast(multiple, bound.start_multiple)) {
    state.find(
      UNJUDGED,
      `Between 1 and ${plain(bound.start_multiple)} times pickup is not a ` +
        "timing point: inject more.",
    );
  } else {
    onCurve(state, bound, multiple);
  }
}

function belowPickup(state) {
  if (state.value.outcome === "no_trip") {
    state.find(WITHIN, "Did not operate, as it must not at or below pickup.");
  } else if (state.high === Infinity) {
    state.find(
      UNJUDGED,
      "It is not said whether the relay operated at last: enter no_trip if it did not.",
    );
  } else {
    state.find(OUTSIDE, "Operated at or below pickup, where it must not.");
  }
}

function onCurve(state, bound, multiple) {
  const { curve, time_dial: dial } = bound;
  const expected = operatingTime(curve, dial, multiple);
  state.working.push(
    `${curve.label}: t = ${equation(curve, dial, figure(multiple))} = ` +
      `${state.say(expected)}.`,
  );
  const tolerance = sayTolerance(state, bound, expected);
  const low = Math.max(0, expected - tolerance);
  const high = expected + tolerance;
  state.narrow({ low, high });
  if (state.value.outcome === "no_trip") {
    state.find(OUTSIDE, `Did not operate; ${state.say(expected)} was expected.`);
    return;
  }
  compareLow(state, low, "the earliest");
  compareHigh(state, high, "the latest");
}

function sayTolerance(state, bound, expected) {
  const part = (bound.tolerance_pct / 100) * expected;
  const tolerance = Math.max(part, bound.tolerance_s);
  state.working.push(
    `Tolerance: the greater of ${plain(bound.tolerance_pct)} % ` +
      `(${state.say(part)}) and ${plain(bound.tolerance_s)} s = ` +
      `± ${state.say(tolerance)}.`,
  );
  state.source(bound.tolerance_cite);
  return tolerance;
}

/**
 * How an operating time was judged, in words.
 */

import { figure, plain } from "./numbers.js";
import { say } from "./said.js";

const LARGEST = 1e30; // beyond that a setting is no relay's

/** Which of a relay's settings no relay can have. */
export function settingsWords(state, { part }) {
  const said = [
    settingWords("The pickup", part.pickup_a),
    settingWords("The time dial", part.time_dial),
  ];
  return said.filter(Boolean);
}

function settingWords(what, value) {
  if (value === null || value === undefined) return `${what} is not known.`;
  if (!(value > 0)) return `${what} is not above zero.`;
  return value < LARGEST ? null : `${what} is out of all proportion.`;
}

export function noMultipleWords({ reading }, { part }) {
  const applied = `${plain(reading.conditions.applied_a)} A`;
  const pickup = `${plain(part.pickup_a)} A`;
  return `${applied} is out of all proportion to the pickup ${pickup}: check both.`;
}

export function multipleWords({ reading }, { part, multiple }) {
  const applied = `${plain(reading.conditions.applied_a)} A`;
  return `Multiple of pickup: ${applied} / ${plain(part.pickup_a)} A = ${figure(multiple)}.`;
}

export function noTimingPointWords(state, { part }) {
  const start = plain(part.start_multiple);
  return `Between 1 and ${start} times pickup is not a timing point: inject more.`;
}

export function belowPickupWords(state, { verdict }) {
  if (verdict === "within") return "Did not operate, as it must not at or below pickup.";
  if (verdict === "outside") return "Operated at or below pickup, where it must not.";
  return "It is not said whether the relay operated at last: enter no_trip if it did not.";
}

/** The curve with its numbers, and the tolerance. */
export function curveWords(state, { part, multiple, expected, tolerance }) {
  const { curve, time_dial: dial, tolerance_pct: pct, tolerance_s: least } = part;
  const share = say(state, (pct / 100) * expected);
  return [
    `${curve.label}: t = ${equation(curve, dial, figure(multiple))} = ${say(state, expected)}.`,
    `Tolerance: the greater of ${plain(pct)} % (${share}) and ${plain(least)} s = ` +
      `± ${say(state, tolerance)}.`,
  ];
}

function equation({ form, a, b, p }, timeDial, multiple) {
  const dial = plain(timeDial);
  if (form === "definite") return dial;
  const inverse = `${plain(a)} / (${multiple}^${plain(p)} − 1)`;
  return b === 0 ? `${dial} × ${inverse}` : `${dial} × (${inverse} + ${plain(b)})`;
}

export function noTripWords(state, { expected }) {
  return `Did not operate; ${say(state, expected)} was expected.`;
}

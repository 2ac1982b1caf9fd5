/**
 * How an operating time was judged, in words.
 */

import { LARGEST } from "../judge.js";
import { operatingTime } from "../relay_times.js";
import { figure, plain } from "./numbers.js";
import { say } from "./said.js";

const EQUATION_DIGITS = 7; // near pickup M^p - 1 keeps few of the digits of M

/** Which of a relay's settings no relay can have. */
export function settingsWords({ reading }, { part }) {
  const said = [
    settingWords("The pickup", part.pickup_a),
    settingWords("The time dial", part.time_dial),
  ].filter(Boolean);
  if (said.length > 0) return said;
  return settingWords("The measured pickup", reading.conditions.measured_pickup_a);
}

/** Why a value is no setting; null where it may be one. */
export function settingWords(what, value) {
  if (value === null || value === undefined) return `${what} is not known.`;
  if (!(value > 0)) return `${what} is not above zero.`;
  return value < LARGEST ? null : `${what} is out of all proportion.`;
}

export function noMultipleWords({ reading }, { pickup }) {
  const applied = `${plain(reading.conditions.applied_a)} A`;
  return `${applied} is out of all proportion to the pickup ${plain(pickup)} A: check both.`;
}

export function multipleWords({ reading }, { part, multiple, pickup }) {
  const name = part.against === "measured_pickup" ? "the measured pickup" : "pickup";
  const applied = `${plain(reading.conditions.applied_a)} A`;
  return `Multiple of ${name}: ${applied} / ${plain(pickup)} A = ${times(part, multiple)}.`;
}

/** A multiple with the digits to work on with; a rule of version 1 keeps its text. */
function times({ against }, multiple) {
  return against === undefined ? figure(multiple) : figure(multiple, EQUATION_DIGITS);
}

export function noTimingPointWords(state, { part }) {
  const start = plain(part.start_multiple);
  return `Between 1 and ${start} times pickup is not a timing point: inject more.`;
}

export function belowPickupWords({ high }, { verdict }) {
  if (verdict === "within") return "Did not operate, as it must not at or below pickup.";
  if (verdict === "outside") return "Operated at or below pickup, where it must not.";
  if (high < Infinity) {
    return (
      "Operated below pickup by less than the declared errors of pickup and current: " +
      "inject less."
    );
  }
  return "It is not said whether the relay operated at last: enter no_trip if it did not.";
}

/** The curve with its numbers. */
export function curveWords(state, { part, multiple }) {
  return `${part.curve.label}: t = ${worked(state, part, multiple)}.`;
}

/** The arithmetic of one expected time, and where a ceiling or a minimum holds it. */
function worked(state, { curve, time_dial: dial, ...bound }, multiple) {
  const { ceiling_multiple: ceiling, minimum_time_s: least } = bound;
  const counted = Math.min(multiple, ceiling ?? Infinity);
  const seconds = operatingTime(curve, dial, counted);
  const flat = counted < multiple ? ` (flat above ${plain(counted)} times)` : "";
  const held = seconds < least ? `, held to the minimum ${plain(least)} s` : "";
  const inserted = equation(curve, dial, times(bound, counted));
  return `${inserted} = ${say(state, seconds)}${flat}${held}`;
}

export function noBandWords(state, { part }) {
  const first = plain(part.bands[0].from);
  return `The assigned-error bands begin at ${first} times pickup: inject more.`;
}

/** How wide the band is about the curve, step by step. */
export function toleranceWords(state, step) {
  const { part, least, most } = step;
  const assigned = part.bands ? [assignedWords(part, step)] : [];
  if (least === most) return [...assigned, plainTolerance(state, step)];
  return [...assigned, ...widenedWords(state, step)];
}

function assignedWords({ tolerance_pct: declared }, { band, pct }) {
  const from = plain(band.from);
  const upTo = band.to ? `to ${plain(band.to)} times pickup` : "times pickup on";
  const place = `from ${from} ${upTo}`;
  return `Assigned error ${plain(declared)} %, ${place} × ${plain(band.times)} = ${plain(pct)} %.`;
}

function plainTolerance(state, { part, pct, expected }) {
  const margin = Math.max((pct / 100) * expected, part.tolerance_s);
  return `Tolerance: ${greaterOf(state, part, pct, expected)} = ± ${say(state, margin)}.`;
}

function greaterOf(state, { tolerance_s: least }, pct, seconds) {
  const share = say(state, (pct / 100) * seconds);
  return `the greater of ${plain(pct)} % (${share}) and ${plain(least)} s`;
}

/** How the errors of pickup and current move both ends of the band. */
function widenedWords(state, { part, multiple, pct, least, most, slow, fast, low, high }) {
  const [ep, ei] = [part.pickup_error_pct ?? 0, part.current_error_pct ?? 0];
  const said = times(part, multiple);
  const [current, pickup] = [plain(ei / 100), plain(ep / 100)];
  const seen =
    `Pickup ± ${plain(ep)} %, current ± ${plain(ei)} %: the relay may see ` +
    `${said} × (1 − ${current}) / (1 + ${pickup}) = ${times(part, least)} to ` +
    `${said} × (1 + ${current}) / (1 − ${pickup}) = ${times(part, most)} times pickup.`;
  const earliest =
    `Earliest: ${worked(state, part, most)}, less ` +
    `${greaterOf(state, part, pct, fast)} = ${say(state, low)}.`;
  if (high === Infinity) {
    return [seen, earliest, "It may see no more than its pickup: no time is too late."];
  }
  const latest =
    `Latest: ${worked(state, part, least)}, and ` +
    `${greaterOf(state, part, pct, slow)} more = ${say(state, high)}.`;
  return [seen, earliest, latest];
}

function equation({ form, a, b, p }, timeDial, multiple) {
  const dial = plain(timeDial);
  if (form === "definite") return dial;
  const inverse = `${plain(a)} / (${multiple}^${plain(p)} − 1)`;
  return b === 0 ? `${dial} × ${inverse}` : `${dial} × (${inverse} + ${plain(b)})`;
}

export function noTripWords(state, { verdict, expected }) {
  if (verdict === "unjudged") return "Did not operate, and no time is too late here.";
  return `Did not operate; ${say(state, expected)} was expected.`;
}

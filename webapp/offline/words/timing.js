/**
 * How an operating time was judged, in words.
 */

import { LARGEST } from "../judge.js";
import { appliedTo, operatingTime, settingOf } from "../relay_times.js";
import { say } from "./catalogue.js";
import { figure, plain } from "./numbers.js";
import { shown } from "./shown.js";

const EQUATION_DIGITS = 7; // near pickup M^p - 1 keeps few of the digits of M

/** Which of a relay's settings no relay can have. */
export function settingsWords({ reading }, { part }) {
  const faults = [settingOf(part), "time_dial"]
    .map((name) => settingWords(name, part[name]))
    .filter(Boolean);
  if (faults.length > 0) return faults;
  return settingWords("measured_pickup_a", reading.conditions.measured_pickup_a);
}

/** Why a value is no setting; null where it may be one. */
export function settingWords(name, value) {
  const setting = say(`setting.${name}`);
  if (value === null || value === undefined) return say("setting.unknown", { setting });
  if (!(value > 0)) return say("setting.not_above_zero", { setting });
  return value < LARGEST ? null : say("setting.out_of_proportion", { setting });
}

const applied = ({ reading }, part) => plain(reading.conditions[appliedTo(part)]);

const keyOf = (key, part) => ("pickup_v" in part ? `${key}.voltage` : key);

export function noMultipleWords(state, { part, pickup }) {
  return say(keyOf("no_multiple", part), { applied: applied(state, part), pickup: plain(pickup) });
}

export function multipleWords(state, { part, multiple, pickup }) {
  const measured = part.against === "measured_pickup";
  return say(measured ? "multiple.measured" : keyOf("multiple", part), {
    applied: applied(state, part),
    pickup: plain(pickup),
    multiple: times(part, multiple),
  });
}

/** A multiple with the digits to work on with; a rule of version 1 keeps its text. */
function times({ against }, multiple) {
  return against === undefined ? figure(multiple) : figure(multiple, EQUATION_DIGITS);
}

export function noTimingPointWords(state, { part }) {
  const start = part.start_multiple;
  return say(keyOf("no_timing_point", part), { start: plain(start), near: figure(100 * (start - 1)) });
}

export function belowPickupWords({ high }, { part, verdict }) {
  if (verdict !== "unjudged") return say(`${keyOf("below_pickup", part)}.${verdict}`);
  return say(high < Infinity ? "below_pickup.nearly" : "below_pickup.unsaid");
}

/** The curve with its numbers. */
export function curveWords(state, { part, multiple }) {
  return say("curve", { label: part.curve.label, time: worked(state, part, multiple) });
}

/** The arithmetic of one expected time, and where a ceiling or a minimum holds it. */
function worked(state, { curve, time_dial: dial, ...bound }, multiple) {
  const { ceiling_multiple: ceiling, minimum_time_s: least } = bound;
  const counted = Math.min(multiple, ceiling ?? Infinity);
  const seconds = operatingTime(curve, dial, counted);
  const inserted = equation(curve, dial, times(bound, "pickup_v" in bound ? counted - 1 : counted));
  let time = say("curve.time", { equation: inserted, time: shown(state, seconds) });
  if (counted < multiple) time = say("curve.flat", { time, ceiling: plain(counted) });
  if (seconds < least) time = say("curve.least", { time, least: plain(least) });
  return time;
}

/** *multiple* is that of pickup, for a voltage the departure from its setting. */
function equation({ form, a, b, p, c, d, e }, timeDial, multiple) {
  const dial = plain(timeDial);
  if (form === "definite") return dial;
  if (form === "voltage") {
    const base = `(${plain(b)} × ${multiple} − ${plain(c)})`;
    return `${dial} × ${plain(a)} / ${base}^${plain(e)} + ${plain(d)}`;
  }
  const inverse = `${plain(a)} / (${multiple}^${plain(p)} − 1)`;
  return b === 0 ? `${dial} × ${inverse}` : `${dial} × (${inverse} + ${plain(b)})`;
}

export function noBandWords(state, { part }) {
  return say("no_band", { first: plain(part.bands[0].from) });
}

/** How wide the band is about the curve, step by step. */
export function toleranceWords(state, step) {
  const { part, least, most } = step;
  const assigned = part.bands ? [assignedWords(part, step)] : [];
  if (least === most) return [...assigned, plainTolerance(state, step)];
  return [...assigned, ...widenedWords(state, step)];
}

function assignedWords({ tolerance_pct: declared }, { band, pct }) {
  const parts = {
    error: plain(declared),
    first: plain(band.from),
    times: plain(band.times),
    pct: plain(pct),
  };
  if (!band.to) return say("assigned.from", parts);
  return say("assigned.between", { ...parts, last: plain(band.to) });
}

function plainTolerance(state, { part, pct, expected }) {
  const margin = Math.max((pct / 100) * expected, part.tolerance_s);
  const greater = greaterOf(state, part, pct, expected);
  return say("tolerance", { greater, margin: shown(state, margin) });
}

function greaterOf(state, { tolerance_s: least }, pct, seconds) {
  const share = shown(state, (pct / 100) * seconds);
  return say("tolerance.greater", { pct: plain(pct), share, seconds: plain(least) });
}

/** How the errors of pickup and current move both ends of the band. */
function widenedWords(state, { part, multiple, pct, least, most, slow, fast, low, high }) {
  const [ep, ei] = [part.pickup_error_pct ?? 0, part.current_error_pct ?? 0];
  const seen = say("tolerance.seen", {
    pickup: plain(ep),
    current: plain(ei),
    multiple: times(part, multiple),
    current_share: plain(ei / 100),
    pickup_share: plain(ep / 100),
    least: times(part, least),
    most: times(part, most),
  });
  const earliest = say("tolerance.earliest", {
    time: worked(state, part, most),
    greater: greaterOf(state, part, pct, fast),
    earliest: shown(state, low),
  });
  if (high === Infinity) return [seen, earliest, say("tolerance.no_latest")];
  const latest = say("tolerance.latest", {
    time: worked(state, part, least),
    greater: greaterOf(state, part, pct, slow),
    latest: shown(state, high),
  });
  return [seen, earliest, latest];
}

export function noTripWords(state, { verdict, expected }) {
  if (verdict === "unjudged") return say("no_trip.unjudged");
  return say("no_trip.outside", { expected: shown(state, expected) });
}

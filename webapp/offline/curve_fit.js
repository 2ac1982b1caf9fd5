/**
 * Fit the pickup and the time dial to several timings on one curve: what
 * models/judging/curve_fit.py finds, found without a server.
 */

import { atLeast } from "./judge.js";
import { operatingTime } from "./relay_times.js";
import { say } from "./words/catalogue.js";
import { figure, plain } from "./words/numbers.js";

const LEAST = 3; // timings: two would fit any two settings without a residual
const [STEPS, HALVINGS] = [100, 60];
const SETTLED = 1e-9; // step of the logarithm of the pickup
const FURTHEST = Math.log(5); // of the pickup from the setting: more is no drift of one
const ROUNDED = 1e-9; // of the sum of squares: no worse than that is not worse
const NEAREST = 1e-6; // of a timing to the pickup: nearer the curve has no end
const FLAT = 1e-9; // squares of the sensitivities: below it every pickup fits
// Student's factor for 95 % by degrees of freedom: JCGM 100:2008 (GUM), Table G.2.
const STUDENT = [12.71, 4.3, 3.18, 2.78, 2.57, 2.45, 2.36, 2.31, 2.26, 2.23];
const STUDENT_BEYOND = 2.2; // that of 11: on the safe side for more
const AS_SET = 0.005; // of the setting: less is not worth a word (own figure)
const U_DIGITS = 2;

const sum = (numbers) => numbers.reduce((total, one) => total + one, 0);

/** The timings {multiple, seconds} on the sloping part of the curve; timed: [amperes, s]. */
export function sloping(bound, timed) {
  const { curve, pickup_a: pickup, time_dial: dial, start_multiple: start } = bound;
  const { ceiling_multiple: ceiling, minimum_time_s: least } = bound;
  return timed
    .map(([appliedA, seconds]) => ({ multiple: appliedA / pickup, seconds }))
    .filter(({ seconds }) => seconds !== null)
    .filter(({ multiple }) => atLeast(multiple, start) && !atLeast(multiple, ceiling ?? Infinity))
    .filter(({ multiple }) => operatingTime(curve, dial, multiple) > (least ?? 0));
}

/**
 * The fit {pickup, pickup_u, dial, dial_u, timings, residuals}, or {reason} why there is
 * none. Pickup is in times the setting; u are standard uncertainties from the scatter.
 */
export function fitCurve(curve, timings) {
  const reason = unfit(curve, timings);
  if (reason) return { reason };
  let logR = 0;
  let misfit = misfitAt(curve, timings, logR);
  for (let n = 0; n < STEPS; n += 1) {
    if (misfit.leverage < FLAT) return { reason: say("fit.alike") };
    if (Math.abs(misfit.step) < SETTLED) return fitted(timings, logR, misfit);
    [logR, misfit] = forward(curve, timings, logR, misfit);
  }
  return { reason: say("fit.not_along") };
}

function unfit({ form }, timings) {
  if (form === "definite") return say("fit.definite");
  if (timings.some(({ seconds }) => !(seconds > 0))) return say("fit.no_time");
  if (timings.some(({ multiple }) => !(multiple > 1))) return say("fit.below_pickup");
  const distinct = [];
  for (const multiple of timings.map((one) => one.multiple).sort((a, b) => a - b)) {
    if (!distinct.length || !atLeast(distinct.at(-1), multiple)) distinct.push(multiple);
  }
  if (distinct.length >= LEAST) return null;
  return say("fit.too_few", { wanted: String(LEAST), found: String(distinct.length) });
}

/** How far the timings are from the curve at one pickup, its dial the best one. */
function misfitAt(curve, timings, logR) {
  const seen = timings.map(({ multiple }) => multiple / Math.exp(logR));
  const logs = timings.map(({ seconds }, at) =>
    Math.log(seconds / operatingTime(curve, 1, seen[at])),
  );
  const logDial = sum(logs) / logs.length;
  const slopes = seen.map((multiple) => sensitivity(curve, multiple));
  const meanSlope = sum(slopes) / slopes.length;
  const residuals = logs.map((log) => log - logDial);
  const centred = slopes.map((slope) => slope - meanSlope);
  const leverage = sum(centred.map((slope) => slope ** 2));
  return {
    logDial,
    residuals,
    meanSlope,
    leverage,
    squares: sum(residuals.map((one) => one ** 2)),
    step: sum(centred.map((slope, at) => slope * residuals[at])) / leverage,
  };
}

const LEVEL = 1e150; // M^p from which on the curve no longer falls, to any number here

/** Percent of time for each percent of pickup. */
function sensitivity({ a, b, p }, multiple) {
  const power = multiple ** p;
  const over = power - 1;
  if (over >= LEVEL) return 0;
  return (a * p * power) / (over * over) / (a / over + b);
}

/** Where a step leads; halved until all stay above pickup and the fit gets no worse. */
function forward(curve, timings, logR, misfit) {
  const lowest = Math.min(...timings.map(({ multiple }) => multiple));
  let { step } = misfit;
  for (let n = 0; n < HALVINGS; n += 1, step /= 2) {
    const there = logR + step;
    if (Math.abs(there) >= FURTHEST || lowest <= Math.exp(there) * (1 + NEAREST)) continue;
    const better = misfitAt(curve, timings, there);
    if (better.squares <= misfit.squares * (1 + ROUNDED)) return [there, better];
  }
  return [logR, misfit];
}

function fitted(timings, logR, { logDial, residuals, meanSlope, leverage, squares }) {
  const variance = squares / (timings.length - 2);
  const [pickup, dial] = [Math.exp(logR), Math.exp(logDial)];
  return {
    pickup,
    pickup_u: pickup * Math.sqrt(variance / leverage),
    dial,
    dial_u: dial * Math.sqrt(variance * (1 / timings.length + meanSlope ** 2 / leverage)),
    timings,
    residuals: residuals.map(Math.expm1),
  };
}

/** The fit in sentences: the diagnosis first, then the numbers. */
export function fitWords(found, { time_dial: setDial }) {
  if (found.reason) return [found.reason];
  const { pickup, pickup_u: pickupU, dial, dial_u: dialU, timings } = found;
  const numbers = say("fit.numbers", {
    count: String(timings.length),
    pickup: figure(pickup),
    pickup_u: figure(pickupU, U_DIGITS),
    dial: figure(dial),
    dial_u: figure(dialU, U_DIGITS),
    set: plain(setDial),
  });
  return [diagnosis(found, setDial), numbers, furthest(found)];
}

function diagnosis({ pickup, pickup_u: pickupU, dial, dial_u: dialU, timings }, setDial) {
  const student = STUDENT[timings.length - 3] ?? STUDENT_BEYOND;
  return say("fit.diagnosis", {
    pickup: either("pickup", pickup, pickup - 1, student * pickupU),
    dial: either("dial", dial, dial / setDial - 1, (student * dialU) / setDial),
  });
}

function either(name, value, off, margin) {
  const parts = { margin: figure(100 * margin, U_DIGITS) };
  if (Math.abs(off) <= Math.max(margin, AS_SET)) return say(`fit.${name}.as_set`, parts);
  return say(`fit.${name}.differs`, { ...parts, [name]: figure(value) });
}

function furthest({ residuals, timings }) {
  const sizes = residuals.map(Math.abs);
  const at = sizes.indexOf(Math.max(...sizes));
  const side = residuals[at] > 0 ? "above" : "below";
  return say(`fit.furthest.${side}`, {
    off: figure(100 * sizes[at], U_DIGITS),
    multiple: figure(timings[at].multiple),
  });
}

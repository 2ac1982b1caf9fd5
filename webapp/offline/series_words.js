/**
 * What a rule takes from a row of readings: a value at a step, a knee, a spread; and gates on it.
 *
 * models/judging/series_words.py and row_gates.py say what each word means.
 */

import { atLeast } from "./judge.js";
import { kneeOf, whereReached } from "./knee.js";
import { boundOf, pointsOf, rowOf, stepAt, straightAt } from "./rows.js";
import { SERIES } from "./tables.js";

// How a value is worked out -> {low, high, shown, and as `of` what U is a share of}; or why it is not.
const WORK = {
  series_at: at,
  series_where: ({ series, value }, steps) => one(whereReached(pointsOf(series, steps), value)),
  series_between: between,
  series_spread: spread,
  knee: (part, steps) => one(kneeOf(part, pointsOf(part.series, steps))),
};

/** By word: {low, high, shown, u, signed}, or the code of why there is none. */
export const FROM_ROWS = Object.fromEntries(
  Object.keys(WORK).map((op) => [op, (part, reading, asRead) => worked(WORK[op], part, reading, asRead)]),
);

function worked(work, part, reading, asRead) {
  const steps = rowOf({ reading }, part.series);
  if (!steps?.length) return steps ? "unreadable" : "no_row";
  const found = work(part, steps, reading);
  if (typeof found === "string") return found;
  const relative = relativeOf(asRead);
  const signed = SERIES[part.series].signed || part.as === "difference";
  const u = relative === null ? null : relative * (found.of ?? Math.abs(found.shown));
  return { ...found, u, signed };
}

/** U over what was read; null without an accuracy, and of nothing. */
function relativeOf(asRead) {
  if (!asRead || asRead.expanded === null || asRead.corrected === 0) return null;
  return asRead.expanded / Math.abs(asRead.corrected);
}

const one = (value) => (typeof value === "string" ? value : { low: value, high: value, shown: value });

/** The step that a share of a condition is, such as of a probe's distance; NaN if not known. */
export function placeOf({ share_of: name }, share, { conditions }) {
  return typeof conditions[name] === "number" ? share * conditions[name] : NaN;
}

function at(part, steps, reading) {
  if (part.step !== undefined) return shownAt(steps, part.step) ?? "no_step";
  const place = placeOf(part, part.share, reading);
  if (Number.isNaN(place)) return "no_distance";
  const value = straightAt(steps, place);
  return Number.isNaN(value) ? "not_reached" : one(value);
}

function shownAt(steps, place) {
  const step = stepAt(steps, place);
  return step && { ...step, shown: boundOf(step) };
}

function between({ late, early, as }, steps) {
  const [above, below] = [shownAt(steps, late), shownAt(steps, early)];
  if (!above || !below) return "no_step";
  if (as === "ratio") return ratio(above, below);
  const [low, high] = [above.low - below.high, above.high - below.low];
  return shownOf(low, high, { of: Math.hypot(above.shown, below.shown) });
}

function ratio(above, below) {
  const low = quotient(above.low, below.high, -Infinity);
  const high = quotient(above.high, below.low, Infinity);
  return shownOf(low, high);
}

function shownOf(low, high, more = {}) {
  if (low === -Infinity && high === Infinity) return "not_reached";
  return { low, high, shown: boundOf({ low, high }), ...more };
}

function quotient(above, below, unknown) {
  return Number.isFinite(above) && Number.isFinite(below) && below ? above / below : unknown;
}

function spread(part, steps, reading) {
  const places = part.shares.map((share) => placeOf(part, share, reading));
  if (places.some(Number.isNaN)) return "no_distance";
  const values = places.map((place) => straightAt(steps, place));
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  if (!(mean > 0)) return "not_reached";
  return one((100 * (Math.max(...values) - Math.min(...values))) / mean);
}

/** The first thing that is wrong with the row that a gate is for, {why, ...}; null: it does. */
export function rowFault(gate, reading, values) {
  const steps = rowOf({ reading }, gate.series);
  if (!steps?.length && gate.above && !values[gate.above.of]) return null; // that is said already
  if (!steps?.length) return { why: steps ? "unreadable" : "none" };
  const points = pointsOf(gate.series, steps);
  const { least = 0 } = gate;
  if (points.length < least) return { why: "few", points: points.length, least };
  return falling(gate, points) ?? sparseAbove(gate, points, values);
}

function falling({ rising }, points) {
  const found = rising ? points.findIndex(([, value], i) => i > 0 && value <= points[i - 1][1]) : -1;
  if (found < 0) return null;
  const [[place, value], [next, then]] = [points[found - 1], points[found]];
  return { why: "not_rising", at: place, value, next, then };
}

function sparseAbove({ above, gap_pct: most }, points, values) {
  const value = above && values[above.of]?.corrected;
  if (!Number.isFinite(value)) return null;
  const beyond = points.filter(([place]) => place > value).length;
  if (beyond < above.least) return { why: "above", points: beyond, least: above.least };
  return most === undefined || points.length < 2 ? null : wideStep(most, points, value);
}

/** The widest step of the one that holds a value and its neighbours, where it is too wide. */
function wideStep(most, points, value) {
  const steps = points.map(([place]) => place);
  const below = steps.filter((place) => place <= value).length - 1;
  const holds = Math.min(Math.max(below, 0), steps.length - 2);
  let widest = null;
  for (let i = Math.max(0, holds - 1); i < Math.min(holds + 2, steps.length - 1); i += 1) {
    const ratioHere = steps[i + 1] / steps[i];
    if (!widest || ratioHere > widest.ratio) widest = { ratio: ratioHere, from: steps[i], to: steps[i + 1] };
  }
  const gap = 100 * (widest.ratio - 1);
  return atLeast(most, gap) ? null : { why: "gap", from: widest.from, to: widest.to, gap };
}

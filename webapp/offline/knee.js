/**
 * The knee of an excitation curve: volts over amperes, in the logarithms of both.
 *
 * models/judging/knee.py has the definitions and their sources.
 */

import { pchip } from "./pchip.js";

const HALVINGS = 60;
export const TOE = 0.95; // the toe has to lie below it, else there is no knee by slope

const CURVES = new WeakMap(); // by points: the knees and their sentences ask for one curve

/** The curve through the logarithms of points above 0; null for fewer than two. */
export function logCurve(given) {
  if (!CURVES.has(given)) CURVES.set(given, curveOf(given));
  return CURVES.get(given);
}

function curveOf(given) {
  const points = given.filter((point) => Math.min(...point) > 0);
  if (points.length < 2) return null;
  return pchip(points.map(([at]) => Math.log(at)), points.map(([, value]) => Math.log(value)));
}

/** The volts of a knee as a derived word, or a note, marks it; or the code of why there is none. */
export function kneeOf(part, points) {
  const curve = logCurve(points);
  if (!curve) return "few";
  const found = part.by === "rise" ? byRise(curve, part) : bySlope(curve, part);
  return typeof found === "string" ? found : Math.exp(found);
}

/** The least volts at which the curve reaches a value; or why it does not. */
export function whereReached(points, value) {
  const curve = logCurve(points);
  if (!curve) return "few";
  const { x, y } = curve;
  const wanted = Math.log(value);
  if (y[0] > wanted) return "begins_above";
  const end = y.findIndex((one, i) => i > 0 && one >= wanted);
  if (end < 0) return "not_reached";
  return Math.exp(between(x[end - 1], x[end], (at) => curve.value(at) >= wanted));
}

function byRise({ x, value }, { step_pct: stepPct, value_pct: valuePct }) {
  const [step, wanted] = [Math.log1p(stepPct / 100), Math.log1p(valuePct / 100)];
  const last = x.at(-1) - step;
  const places = [...x, ...x.map((one) => one - step)].sort((a, b) => a - b).filter((one) => x[0] <= one && one <= last);
  const beyond = (at) => value(at + step) - value(at) >= wanted;
  const found = places.findIndex(beyond);
  if (found < 0) return "not_reached";
  return found ? between(places[found - 1], places[found], beyond) : "begins_above";
}

function bySlope({ x, slopes, slope }, { degrees }) {
  const wanted = Math.tan(((90 - degrees) * Math.PI) / 180);
  if (slopes.every((one) => one < wanted)) return "not_reached";
  const found = slopes.findLastIndex((one, i) => one < wanted && wanted <= slopes[i + 1]);
  if (found < 0 || slopes.slice(0, found + 1).every((one) => one >= TOE)) return "no_toe";
  return between(x[found], x[found + 1], (at) => slope(at) >= wanted);
}

/** The place that halving finds between one before and one beyond. */
function between(low, high, beyond) {
  let [from, to] = [low, high];
  for (let n = 0; n < HALVINGS; n += 1) {
    const middle = (from + to) / 2;
    if (beyond(middle)) to = middle;
    else from = middle;
  }
  return (from + to) / 2;
}

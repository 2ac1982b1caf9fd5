/**
 * What is expected, bands and angles: what a value comes to by a bound, as steps. The
 * same as expected.py, bands.py and near_angle.py of models/judging.
 */

import { wrapped } from "./angles.js";
import { atLeast, atLeastStep, atMostStep, verdictOf } from "./judge.js";

const BY = { bands: inBand, near, near_angle: nearAngle };

/** The steps [verdict, code, numbers], by the bound that takes them. */
export function settledBy(bounds, values, expected) {
  const found = new Map();
  for (const bound of bounds.filter(({ kind }) => BY[kind])) {
    const value = values[bound.of ?? "reading"];
    if (value) found.set(bound, BY[bound.kind](bound, value, expected.get(bound)));
  }
  return found;
}

/** The verdict of the bands that a value may lie in; a band holds its upper end. */
function inBand({ bands }, { least, most, exact }) {
  const [first, last] = [least, most].map((end) => placeOf(bands, end));
  const verdicts = new Set(bands.slice(first, last + 1).map(({ verdict }) => verdict));
  const verdict = verdicts.size === 1 ? bands[first].verdict : verdictOf(false, true, exact);
  const safe = bands.findIndex((band) => band.verdict !== "within");
  return [[verdict, "band", { high: bands[safe - 1]?.to, first, last }]];
}

const placeOf = (bands, end) => bands.findIndex(({ to = Infinity }) => atLeast(to, end));

/** No further from what is expected than the greater of a share of it and a fixed part. */
function near({ pct = 0, fixed = 0, below = true, above = true }, value, expected) {
  if (!Number.isFinite(expected)) return [["unjudged", "no_expected"]];
  const within = Math.max((pct / 100) * Math.abs(expected), fixed);
  const steps = [[null, "expected_value", { expected, within }]];
  if (below) steps.push(atLeastStep(value, "least", expected - within));
  if (above) steps.push(atMostStep(value, "most", expected + within));
  return steps;
}

/** Near an angle the shorter way round; a bound may lie anywhere on the circle. */
function nearAngle({ within_deg: within }, value, expected) {
  if (!Number.isFinite(expected)) return [["unjudged", "no_expected"]];
  const difference = wrapped(value.corrected - expected);
  const away = value.exact ? Math.abs(difference) : NaN;
  const sure = atLeast(within, away + value.expanded);
  const perhaps = !value.exact || atLeast(within, away - value.expanded);
  const verdict = verdictOf(sure, perhaps, value.exact);
  const limits = { low: expected - within, high: expected + within };
  return [
    [null, "expected_value", { expected, within }],
    [verdict, "near_angle", { ...limits, difference }],
  ];
}

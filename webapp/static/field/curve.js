// A relay's time-current curve on logarithmic axes, with what was measured.

import {
  convert,
  fitCurve,
  fitWords,
  operatingTime,
  parseValue,
  sloping,
  timesAt,
  unwidened,
} from "/offline/reader.js";
import { h, s } from "./dom.js";
import { ends } from "./ends.js";

const WIDTH = 560;
const HEIGHT = 280;
const LEFT = 52;
const RIGHT = 16;
const TOP = 14;
const BOTTOM = 40;
const MARGIN = 1.7; // the axis goes on beyond the last point, for its label
// No relay is set or timed beyond these; what was typed amiss lies at the edge.
const LEAST_MULTIPLE = 1e-3;
const MOST_MULTIPLE = 1e4;
const STEPS = 96; // points of the curve
const BESIDE = 1 + 1e-6; // of a multiple: just beyond a step of the band
const MEASURED = "measured_pickup";

/**
 * Return the drawing and what the times fit; *timed*: [{label, text, unit, applied_a,
 * verdict, measured_pickup_a}].
 */
export function timeCurrent(rule, timed) {
  const set = rule.bounds.find((one) => one.kind === "operating_time" && "pickup_a" in one);
  if (!set) return null;
  const points = timed.map((one) => ({ ...one, seconds: secondsOf(one) }));
  const found = fitCurve(set.curve, sloping(set, points.map((one) => [one.applied_a, one.seconds])));
  return [drawing(set, decidedOn(set, points), points, found), fitSaid(set, points, found)];
}

/** Return the drawing alone, of one time; null where there is no curve or no current. */
export function curveOf(rule, one) {
  return one.applied_a > 0 ? (timeCurrent(rule, [one])?.[0] ?? null) : null;
}

/** The bound as it decides: on the measured pickup where the rule says so. */
function decidedOn(bound, points) {
  const measured = points.map((one) => one.measured_pickup_a).filter((value) => value > 0);
  if (bound.against !== MEASURED || !measured.length) return bound;
  return { ...unwidened(bound), pickup_a: measured.at(-1) };
}

function fitSaid(bound, points, found) {
  if (bound.curve.form === "definite" || !points.length) return null;
  const [first, ...rest] = fitWords(found, bound);
  return h(
    "div",
    { class: "fit" },
    h("p", {}, found.reason ? first : h("strong", {}, first)),
    rest.map((line) => h("p", { class: "quiet small" }, line)),
  );
}

function drawing(set, bound, points, found) {
  const multiples = points.map((one) => one.applied_a / bound.pickup_a);
  const right = Math.min(Math.max(10, ...multiples) * MARGIN, MOST_MULTIPLE);
  const left = Math.max(Math.min(1, ...multiples) * 0.9, LEAST_MULTIPLE);
  const held = [beginning(bound), right].map((multiple) => timesAt(bound, multiple));
  const times = [
    ...points.map((one) => one.seconds),
    ...held.flatMap((one) => (one ? [one.low, one.expected, one.high] : [])),
  ].filter((time) => time > 0 && time < Infinity);
  const across = logScale(left, right, LEFT, WIDTH - RIGHT);
  const up = logScale(Math.min(...times) / 1.6, Math.max(...times) * 1.6, HEIGHT - BOTTOM, TOP);
  return s(
    "svg",
    {
      class: "drawing curve",
      viewBox: `0 0 ${WIDTH} ${HEIGHT}`,
      role: "img",
      "aria-label": words(bound, points),
    },
    grid(bound, across, up),
    bandShape(bound, across, up),
    found.reason ? null : fittedLine(bound, set.pickup_a, found, across, up),
    points.map((one) => measured(bound, one, across, up)),
  );
}

/** The multiple from which on there is a band. */
function beginning({ bands, start_multiple: start }) {
  return Math.max(start, bands ? bands[0].from : start);
}

function secondsOf(one) {
  const value = parseValue(one.text);
  if (value.outcome || value.low !== value.high) return null;
  return convert(value.low, one.unit ?? "s", "s");
}

function logScale(from, to, start, end) {
  const { low, high } = ends(from, to, true);
  return {
    low,
    high,
    start,
    end,
    place(value) {
      const at = Math.min(Math.max(value, low), high);
      return start + (Math.log(at / low) / Math.log(high / low)) * (end - start);
    },
  };
}

function logTicks(scale) {
  const found = [];
  const last = Math.ceil(Math.log10(scale.high));
  for (let e = Math.floor(Math.log10(scale.low)); e <= last; e += 1) {
    for (let m = 1; m <= 9; m += 1) {
      const value = m * 10 ** e;
      if (value >= scale.low && value <= scale.high) found.push([value, m]);
    }
  }
  return found;
}

function grid(bound, across, up) {
  const wide = (value, m) => value >= 1 && (value <= 10 ? [1, 2, 3, 5].includes(m) : m <= 2);
  return [
    logTicks(across).map(([value, m]) => [
      line(across.place(value), up.start, across.place(value), up.end, m === 1 ? "grid-strong" : "grid"),
      wide(value, m) && text(across.place(value), up.start + 13, short(value), "figure", "middle"),
    ]),
    logTicks(up).map(([value, m]) => [
      line(across.start, up.place(value), across.end, up.place(value), m === 1 ? "grid-strong" : "grid"),
      [1, 2, 5].includes(m) &&
        text(across.start - 5, up.place(value) + 3, `${short(value)} s`, "figure", "end"),
    ]),
    text((across.start + across.end) / 2, HEIGHT - 8, `multiple of ${pickupName(bound)} ${bound.pickup_a} A`, "label", "middle"),
  ];
}

function bandShape(bound, across, up) {
  const first = Math.max(beginning(bound), across.low);
  const place = (multiple, time) => `${round(across.place(multiple))},${round(up.place(time))}`;
  const inBand = multiplesOf(bound, first, across.high)
    .map((multiple) => [multiple, timesAt(bound, multiple)])
    .filter(([, times]) => times);
  const lower = inBand.map(([multiple, { low }]) => place(multiple, low));
  const upper = inBand.map(([multiple, { high }]) => place(multiple, high));
  const plain = { ...bound, bands: null };
  const middle = multiplesOf(bound, first, across.high).map((multiple) =>
    place(multiple, timesAt(plain, multiple).expected),
  );
  const pickup = across.place(1);
  return [
    s("polygon", { class: "d-band", points: [...lower, ...[...upper].reverse()].join(" ") }),
    s("polyline", { class: "d-band-edge", points: lower.join(" ") }),
    s("polyline", { class: "d-band-edge", points: upper.join(" ") }),
    s("polyline", { class: "d-curve", points: middle.join(" ") }),
    line(pickup, up.start, pickup, up.end, "limit-line"),
    text(pickup + 4, up.start - 5, "pickup", "figure", "start"),
  ];
}

/** Where the curve is worked out, both sides of each step among them. */
function multiplesOf({ bands, ceiling_multiple: ceiling }, first, last) {
  const found = spread(first, last);
  for (const step of [...(bands ?? []).map(({ to }) => to), ceiling]) {
    if (step > first && step < last) found.push(step, step * BESIDE);
  }
  return found.sort((a, b) => a - b);
}

function spread(first, last) {
  const ratio = (last / first) ** (1 / STEPS);
  return Array.from({ length: STEPS + 1 }, (_, n) => first * ratio ** n);
}

/** The curve that the times fit, as far as they reach. */
function fittedLine(bound, setA, { pickup, dial, timings }, across, up) {
  const multiples = timings.map(({ multiple }) => multiple);
  const places = spread(Math.min(...multiples), Math.max(...multiples)).map((multiple) => [
    across.place((multiple * setA) / bound.pickup_a),
    up.place(operatingTime(bound.curve, dial, multiple / pickup)),
  ]);
  const [x, y] = places.at(-1);
  return [
    s("polyline", { class: "d-fitted", points: places.map((place) => place.map(round).join(",")).join(" ") }),
    text(x - 4, y + 24, "fitted", "figure", "end"),
  ];
}

function measured(bound, one, across, up) {
  const x = across.place(one.applied_a / bound.pickup_a);
  if (one.seconds === null) {
    return text(x, up.end + 12, one.text === "no_trip" ? "no trip" : one.text, `${one.verdict}-word`, "middle");
  }
  const y = up.place(one.seconds);
  const points = `${x},${y - 7} ${x + 5},${y} ${x},${y + 7} ${x - 5},${y}`;
  return s("polygon", { class: `d-${one.verdict}-mark`, points });
}

function words(bound, points) {
  const said = points.map((one) => `${one.label}: ${one.text.replace("_", " ")} ${one.unit ?? ""}, ${one.verdict}`);
  return `${bound.curve.label}, pickup ${bound.pickup_a} A, dial ${bound.time_dial}. ${said.join("; ")}`;
}

function pickupName({ against }) {
  return against === MEASURED ? "measured pickup" : "pickup";
}

function short(value) {
  return String(Number(value.toPrecision(6)));
}

function round(value) {
  return Math.round(value * 10) / 10;
}

function line(x1, y1, x2, y2, style) {
  return s("line", { class: `d-${style}`, x1, y1, x2, y2 });
}

function text(x, y, said, style, anchor) {
  return s("text", { class: `d-${style}`, x, y, "text-anchor": anchor }, said);
}

// A relay's time-current curve on logarithmic axes, with what was measured.

import { convert, operatingTime, parseValue } from "/offline/reader.js";
import { s } from "./dom.js";

const WIDTH = 560;
const HEIGHT = 280;
const LEFT = 52;
const RIGHT = 16;
const TOP = 14;
const BOTTOM = 40;
const MARGIN = 1.6; // the axis goes on beyond the last point
const STEPS = 80;

/** Return the drawing; *timed*: [{label, text, unit, applied_a, verdict}]. */
export function timeCurrent(rule, timed) {
  const bound = rule.bounds.find((one) => one.kind === "operating_time");
  if (!bound) return null;
  const points = timed.map((one) => ({ ...one, seconds: secondsOf(one) }));
  const band = (multiple) => {
    const expected = operatingTime(bound.curve, bound.time_dial, multiple);
    const tolerance = Math.max((bound.tolerance_pct / 100) * expected, bound.tolerance_s);
    return [Math.max(0.001, expected - tolerance), expected, expected + tolerance];
  };
  const multiples = points.map((one) => one.applied_a / bound.pickup_a);
  const right = Math.max(10, ...multiples) * MARGIN;
  const left = Math.min(1, ...multiples) * 0.9;
  const times = [
    ...points.map((one) => one.seconds).filter((time) => time > 0),
    ...band(bound.start_multiple),
    ...band(right),
  ];
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
    bandShape(bound, band, across, up),
    points.map((one) => measured(bound, one, across, up)),
  );
}

function secondsOf(one) {
  const value = parseValue(one.text);
  if (value.outcome || value.low !== value.high) return null;
  return convert(value.low, one.unit ?? "s", "s");
}

function logScale(low, high, start, end) {
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
    text((across.start + across.end) / 2, HEIGHT - 8, `multiple of pickup ${bound.pickup_a} A`, "label", "middle"),
  ];
}

function bandShape(bound, band, across, up) {
  const first = Math.max(bound.start_multiple, across.low);
  const ratio = (across.high / first) ** (1 / STEPS);
  const places = [[], [], []];
  for (let n = 0; n <= STEPS; n += 1) {
    const multiple = first * ratio ** n;
    band(multiple).forEach((time, at) => places[at].push(`${round(across.place(multiple))},${round(up.place(time))}`));
  }
  const [lower, middle, upper] = places;
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

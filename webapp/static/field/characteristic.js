// A characteristic of straight lines with its tolerance, and what was read on it.

import { convert, parseValue, saidUnit } from "/offline/reader.js";
import { s } from "./dom.js";
import { Axis } from "./axis.js";

const WIDTH = 560;
const HEIGHT = 280;
const [LEFT, RIGHT, TOP, BOTTOM] = [52, 16, 26, 40];
const ROOM = 1.08; // beyond what is drawn
const LAST = 1.6; // of the last corner but one: the last may lie far away

/** Return the drawing of a rule whose readings lie on lines; null of any other rule. */
export function characteristic(rule, read) {
  const bound = rule.bounds.find((one) => one.kind === "near" && !one.of && one.expected?.points);
  if (!bound) return null;
  const marks = read.map((one) => ({ ...one, at: one.conditions[bound.expected.on], value: valueOf(one, rule.unit) }));
  const shown = marks.filter(({ at, value }) => Number.isFinite(at) && Number.isFinite(value));
  const corners = drawnCorners(bound.expected.points, shown.map(({ at }) => at));
  const band = bandOf(bound, corners);
  const across = new Axis(0, Math.max(...band.map(([x]) => x), ...shown.map(({ at }) => at)) * ROOM, LEFT, WIDTH - RIGHT, false);
  const up = new Axis(0, Math.max(...band.map(([, , high]) => high), ...shown.map(({ value }) => value)) * ROOM, HEIGHT - BOTTOM, TOP, false);
  const place = (x, y) => `${round(across.place(x))},${round(up.place(y))}`;
  const [lower, upper] = [band.map(([x, low]) => place(x, low)), band.map(([x, , high]) => place(x, high))];
  return s(
    "svg",
    { class: "drawing characteristic", viewBox: `0 0 ${WIDTH} ${HEIGHT}`, role: "img", "aria-label": words(bound, shown, rule.unit) },
    grid(across, up, bound, rule.unit),
    s("polygon", { class: "d-band", points: [...lower, ...upper.toReversed()].join(" ") }),
    [lower, upper].map((edge) => s("polyline", { class: "d-band-edge", points: edge.join(" ") })),
    s("polyline", { class: "d-curve", points: corners.map(([x, y]) => place(x, y)).join(" ") }),
    shown.map((one) => mark(one, across.place(one.at), up.place(one.value))),
  );
}

function valueOf({ text, unit }, wanted) {
  const { low, high } = parseValue(text);
  return low === high ? convert(low, unit, wanted) : NaN;
}

/** The corners, the last line cut off a little beyond what was read. */
function drawnCorners(points, read) {
  const [[x0, y0], [x1, y1]] = points.slice(-2);
  const end = Math.min(x1, Math.max(LAST * x0, ROOM * Math.max(0, ...read)));
  return [...points.slice(0, -1), [end, y0 + ((y1 - y0) * (end - x0)) / (x1 - x0)]];
}

/** [x, lowest, highest] of what is met at each corner. */
function bandOf({ pct = 0, fixed = 0 }, corners) {
  return corners.map(([x, y]) => {
    const within = Math.max((pct / 100) * Math.abs(y), fixed);
    return [x, Math.max(0, y - within), y + within];
  });
}

function grid(across, up, { expected }, unit) {
  return [
    across.ticks().map((x) => [line(across.place(x), up.start, across.place(x), up.end, "grid"), text(across.place(x), up.start + 13, short(x), "figure", "middle")]),
    up.ticks().map((y) => [line(across.start, up.place(y), across.end, up.place(y), "grid"), text(across.start - 5, up.place(y) + 4, short(y), "figure", "end")]),
    s("polyline", { class: "d-axis", points: `${across.start},${up.end} ${across.start},${up.start} ${across.end},${up.start}` }),
    text(8, 14, saidUnit(unit), "label", "start"),
    text(across.end, HEIGHT - 8, expected.label ?? "", "label", "end"),
  ];
}

function mark({ verdict }, x, y) {
  const points = `${x},${y - 7} ${x + 5},${y} ${x},${y + 7} ${x - 5},${y}`;
  return s("polygon", { class: `d-${verdict}-mark`, points });
}

function words({ expected }, shown, unit) {
  const corners = expected.points.map(([x, y]) => `${short(x)}: ${short(y)}`).join(", ");
  const said = shown.map(({ label, text: typed, unit: own, verdict }) => `${label}: ${typed} ${saidUnit(own)}, ${verdict}`);
  return [`Characteristic over the ${expected.label ?? "condition"}, in ${saidUnit(unit)}: ${corners}`, ...said].join("; ");
}

const short = (value) => String(Number(value.toPrecision(6)));
const round = (value) => Math.round(value * 10) / 10;
const line = (x1, y1, x2, y2, style) => s("line", { class: `d-${style}`, x1, y1, x2, y2 });
const text = (x, y, said, style, anchor) => s("text", { class: `d-${style}`, x, y, "text-anchor": anchor }, said);

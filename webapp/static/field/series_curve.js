// A row of readings drawn: in logarithms of time or of both, or over even steps.

import { figure, plain, saidUnit } from "/offline/reader.js";
import { Axis } from "./axis.js";
import { s } from "./dom.js";

const WIDTH = 350;
const HEIGHT = 200;
const LEFT = 50;
const RIGHT = 14;
const TOP = 26;
const BOTTOM = 36;
const ARROW = 14;
const MOST_MARKED = 40; // more readings are a record's: a line, and no symbol at each
const ZOOM_ROOM = 0.3; // about the values, of their span
const LEAST_ROOM = 0.01; // of the largest, where they are all alike
const NAME_APART = 13;
const NAME_WIDE = 46; // of a mark: lines that are closer share a place for their names
const TIMES = [15, 30, 60, 120, 300, 600]; // s: those that people speak of

/**
 * Return the drawing of *steps*, or null where there are fewer than two to draw.
 * *baseline*: the steps of the baseline's row, in the same unit, drawn beside them.
 * *lines*: {marks: {name: step}, band: [from, to] or null} that are drawn across.
 * *tap*: is called with the step at which the drawing was tapped.
 */
export function seriesCurve(kind, steps, unit, baseline, lines, tap) {
  const timed = kind.step_unit === "s";
  const log = timed || kind.scale === "log";
  const points = placed(steps, log);
  const earlier = placed(baseline, log);
  if (points.length < 2) return null;
  const all = [...points, ...earlier];
  const across = acrossOf(all, log);
  const up = upOf(all, log, kind.zoomed);
  const said = saidUnit(kind.unit || unit);
  return s(
    "svg",
    {
      class: `drawing series-curve${tap ? " tapped-curve" : ""}`,
      viewBox: `0 0 ${WIDTH} ${HEIGHT}`,
      role: "img",
      "aria-label": words(kind, steps, said, lines.marks),
      onclick: tap && ((event) => tap(across.at(placeOf(event)))),
    },
    bandOf(lines.band, across, up),
    grid(across, up, timed, said, kind),
    kind.name === "leakage" && proportion(points, across, up),
    earlier.length > 1 && [joined(earlier, across, up, "series-2"), ...legend()],
    joined(points, across, up, "curve"),
    markLines(lines.marks, across, up),
    points.length <= MOST_MARKED && points.map((one) => marked(one, across.place(one.at), up.place(one.value))),
  );
}

/** Where across the drawing an event happened, in its own units. */
function placeOf({ clientX, currentTarget }) {
  const { left, width } = currentTarget.getBoundingClientRect();
  return ((clientX - left) / width) * WIDTH;
}

function placed(steps, log) {
  return steps
    .map((one) => ({ ...one, value: one.high === Infinity ? one.low : one.high }))
    .filter(({ at, value }) => (at > 0 && value > 0) || !log);
}

function joined(points, across, up, style) {
  const places = points.map(({ at, value }) => `${round(across.place(at))},${round(up.place(value))}`);
  return s("polyline", { class: `d-${style}`, points: places.join(" ") });
}

function legend() {
  const end = WIDTH - RIGHT;
  return [line(end - 82, 10, end - 58, 10, "series-2"), text(end, 14, "baseline", "label", "end")];
}

/** Return a time as people say it: 45 s, 1 min. */
export function timeWords(seconds) {
  return seconds < 60 || seconds % 60 ? `${plain(seconds)} s` : `${plain(seconds / 60)} min`;
}

function acrossOf(points, log) {
  const first = Math.min(...points.map(({ at }) => at));
  const last = Math.max(...points.map(({ at }) => at));
  if (log) return new Axis(first / 1.25, last * 1.25, LEFT, WIDTH - RIGHT, true);
  return new Axis(0, last * 1.08, LEFT, WIDTH - RIGHT, false);
}

function upOf(points, log, zoomed) {
  const values = points.map(({ value }) => value);
  const high = Math.max(...values);
  if (log) return new Axis(Math.min(...values) / 1.8, high * 1.8, HEIGHT - BOTTOM, TOP, true);
  if (zoomed) {
    const least = Math.min(...values);
    const room = (high - least) * ZOOM_ROOM || Math.abs(high) * LEAST_ROOM || 1;
    return new Axis(least - room, high + room, HEIGHT - BOTTOM, TOP, false);
  }
  const low = Math.min(0, Math.min(...values) * 1.2);
  return new Axis(low, Math.max(high, 0) * 1.2 || 1, HEIGHT - BOTTOM, TOP, false);
}

function grid(across, up, timed, said, kind) {
  const places = timed
    ? TIMES.filter((at) => at >= across.low && at <= across.high).map((at) => [at, timeWords(at)])
    : across.ticks().map((at) => [at, short(at)]);
  return [
    places.map(([at, label]) => [
      line(across.place(at), up.start, across.place(at), up.end, timed && [60, 600].includes(at) ? "grid-strong" : "grid"),
      text(across.place(at), up.start + 14, label, "figure", "middle"),
    ]),
    up.ticks().map((value) => [
      line(across.start, up.place(value), across.end, up.place(value), "grid"),
      text(across.start - 6, up.place(value) + 4, short(value), "figure", "end"),
    ]),
    s("polyline", { class: "d-axis", points: `${across.start},${up.end} ${across.start},${up.start} ${across.end},${up.start}` }),
    text(8, 14, said, "label", "start"),
    text(WIDTH - RIGHT, HEIGHT - 4, timed ? "time, logarithmic" : belowWords(kind), "label", "end"),
  ];
}

function belowWords({ step_label: label, step_unit: unit, scale }) {
  return `${label}, ${unit}${scale === "log" ? ", both logarithmic" : ""}`;
}

/** The current that would grow as the voltage does, from the first step on. */
function proportion(points, across, up) {
  const slope = points[0].value / points[0].at;
  const last = points.at(-1).at;
  const beyond = slope * last > up.high;
  const [end, top] = beyond ? [up.high / slope, up.high] : [last, slope * last];
  return line(across.place(0), up.place(0), round(across.place(end)), round(up.place(top)), "series-3");
}

/** Where the readings have to lie flat. */
function bandOf(band, across, up) {
  if (!band) return null;
  const [from, to] = band.map((at) => round(across.place(at)));
  return s("rect", { class: "d-band", x: from, y: up.end, width: round(to - from), height: up.start - up.end });
}

/** A line at each mark; names of those that lie close together stand outside them, in their order. */
function markLines(marks, across, up) {
  const placed = Object.entries(marks).map(([mark, at]) => ({ mark, x: round(across.place(at)) })).sort((one, other) => one.x - other.x);
  const middle = (across.start + across.end) / 2;
  return clusters(placed).map((close) => {
    const right = close[0].x > middle;
    const [beside, anchor] = right ? [close[0].x - 3, "end"] : [close.at(-1).x + 3, "start"];
    return close.map(({ mark, x }, n) => [
      line(x, up.start, x, up.end, "axis"),
      text(beside, up.end + 10 + NAME_APART * n, mark, "figure", anchor),
    ]);
  });
}

/** Marks from left to right, in lists of those that are too close for a name between them. */
function clusters(placed) {
  const found = [];
  for (const one of placed) {
    const last = found.at(-1)?.at(-1);
    if (last && one.x - last.x < NAME_WIDE) found.at(-1).push(one);
    else found.push([one]);
  }
  return found;
}

function marked(one, x, y) {
  const mark = s("circle", { class: "d-symbol-solid", cx: round(x), cy: round(y), r: 3.2 });
  if (one.low === one.high) return mark;
  const way = one.high === Infinity ? -1 : 1;
  const tip = y + ARROW * way;
  const back = tip - 4 * way;
  return [
    mark,
    line(x, y, x, tip, "axis"),
    s("polyline", { class: "d-axis", points: `${x - 4},${back} ${x},${tip} ${x + 4},${back}` }),
  ];
}

function words(kind, steps, said, marks) {
  const told = steps.length <= MOST_MARKED ? steps : [steps[0], steps.at(-1)];
  const parts = told.map(({ at, text: shown }) => `${plain(at)} ${kind.step_unit}: ${shown} ${said}`);
  const places = Object.entries(marks).map(([mark, at]) => `${mark} at ${figure(at)} ${kind.step_unit}`);
  return `${kind.title}. ${[...parts, ...places].join("; ")}`;
}

function short(value) {
  const shown = figure(value, 6);
  return shown.includes(".") && !shown.includes("e") ? shown.replace(/\.?0+$/, "") : shown;
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

// Angles on a circle: where each has to lie, and where it was read.

import { figure } from "/offline/reader.js";
import { s } from "./dom.js";

const [WIDTH, HEIGHT] = [560, 280];
const [X, Y, RADIUS] = [WIDTH / 2, HEIGHT / 2, 106];
const [NAME_AT, LEAST_ARC] = [RADIUS + 12, 2]; // degrees: a narrower sector would not be seen
const AXES = [0, 90, 180, 270];

/** Return the drawing of angles beside what is expected of them; null of any other rule. */
export function dial(rule, read) {
  const shown = read.filter(({ judgement }) => Number.isFinite(judgement?.corrected));
  if (!shown.length || !rule.bounds.some(({ kind, of }) => kind === "near_angle" && !of)) return null;
  return s(
    "svg",
    { class: "drawing dial", viewBox: `0 0 ${WIDTH} ${HEIGHT}`, role: "img", "aria-label": words(shown) },
    s("circle", { class: "d-grid", cx: X, cy: Y, r: RADIUS, fill: "none" }),
    AXES.map((at) => [spoke(at, RADIUS, "grid"), name(at, NAME_AT, `${at}°`, "figure")]),
    shown.map(sector),
    shown.map(needle),
  );
}

function sector({ judgement: { limit_low: low, limit_high: high } }) {
  if (low === null || high === null) return null;
  const wide = Math.max(high - low, LEAST_ARC);
  const from = (low + high - wide) / 2;
  const [a, b] = [place(from, RADIUS), place(from + wide, RADIUS)];
  return s("path", { class: "d-band", d: `M${X},${Y} L${a} A${RADIUS},${RADIUS} 0 ${wide > 180 ? 1 : 0} 0 ${b} Z` });
}

function needle({ label, judgement: { corrected, verdict } }) {
  const [x, y] = at(corrected, RADIUS);
  const points = `${round(x)},${round(y - 7)} ${round(x + 5)},${round(y)} ${round(x)},${round(y + 7)} ${round(x - 5)},${round(y)}`;
  return [spoke(corrected, RADIUS, "curve"), s("polygon", { class: `d-${verdict}-mark`, points }), name(corrected, NAME_AT + 16, label, "label")];
}

function spoke(degrees, radius, style) {
  const [x2, y2] = at(degrees, radius).map(round);
  return s("line", { class: `d-${style}`, x1: X, y1: Y, x2, y2 });
}

/** A word beyond the circle, on the side where it has room. */
function name(degrees, radius, said, style) {
  const [x, y] = at(degrees, radius);
  const anchor = Math.abs(x - X) < 20 ? "middle" : x > X ? "start" : "end";
  return s("text", { class: `d-${style}`, x: round(x), y: round(y + 4), "text-anchor": anchor }, said);
}

/** The place of an angle: 0 to the right, rising counterclockwise. */
function at(degrees, radius) {
  const turn = (degrees * Math.PI) / 180;
  return [X + radius * Math.cos(turn), Y - radius * Math.sin(turn)];
}

const place = (degrees, radius) => at(degrees, radius).map(round).join(",");
const round = (value) => Math.round(value * 10) / 10;

function words(shown) {
  return shown
    .map(({ label, judgement: { corrected, limit_low: low, limit_high: high, verdict } }) => {
      const wanted = low === null ? "" : `, ${figure(low)}° to ${figure(high)}° wanted`;
      return `${label}: ${figure(corrected)}°${wanted}, ${verdict}`;
    })
    .join("; ");
}

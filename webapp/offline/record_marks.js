/**
 * What stands out in a record of a breaker, as models/judging/record_marks.py finds it:
 * marks of a coil's current, figures of travel. Points are [at, value], at in ms.
 */

const START_SHARE = 0.05; // of the greatest current: from there the coil is energized
const TURN_SHARE = 0.03; // a dip or rise below that share is noise
const HELD_SHARE = 0.9; // of the current after the latch: below it the contact has opened
export const MARKS = ["start", "plunger", "latch", "contact"];

const bound = ({ low, high }) => (low === -Infinity ? high : low);

/** A row's steps as points. */
export const markPoints = (steps) => steps.map((step) => [step.at, bound(step)]);

/** The marks that are drawn on a row of this kind; a travel has none. */
export function marksOfRow(kind, steps) {
  return kind === "coil_record" ? coilMarks(markPoints(steps)) : {};
}

/** What a record comes to, [[label, value, unit]]; null for rows of another kind. */
export function figuresOfRow(kind, steps, conditions = {}) {
  if (kind === "coil_record") return Object.entries(marksInForce(marksOfRow(kind, steps), conditions)).map(([mark, at]) => [capital(mark), at, "ms"]);
  if (kind !== "travel") return null;
  const { stroke, overtravel, rebound } = travelFigures(markPoints(steps), null) ?? {};
  return Object.entries({ stroke, overtravel, rebound })
    .filter(([, value]) => value !== undefined)
    .map(([name, value]) => [capital(name), value, "mm"]);
}

const capital = (word) => word[0].toUpperCase() + word.slice(1);

/** When each of MARKS lies, in ms; one that is not there is left out. */
export function coilMarks(points) {
  const greatest = Math.max(0, ...points.map(([, value]) => value));
  if (greatest <= 0) return {};
  const [plunger, latch] = firstDip(points, TURN_SHARE * greatest);
  const contact = heldUntil(points, latch ?? 0);
  const found = { start: crossing(points, START_SHARE * greatest), plunger, latch, contact };
  return Object.fromEntries(Object.entries(found).filter(([, at]) => at !== undefined));
}

/** When a line through the points first reaches `level` from below. */
function crossing(points, level) {
  const next = points.findIndex(([, value]) => value >= level);
  if (next < 0) return undefined;
  const [at, value] = points[next];
  if (next === 0 || value === points[next - 1][1]) return at;
  const [before, least] = points[next - 1];
  return before + ((level - least) / (value - least)) * (at - before);
}

/** When the first peak is reached, and the least value after it; [] where there is no dip. */
function firstDip(points, turn) {
  let [high, low] = [points[0], points[0]];
  let peak = null;
  for (const point of points) {
    if (peak === null) {
      if (point[1] > high[1]) high = point;
      if (high[1] - point[1] >= turn) [peak, low] = [high[0], point];
    } else {
      if (point[1] < low[1]) low = point;
      if (point[1] - low[1] >= turn) return [peak, low[0]];
    }
  }
  return [];
}

/** The last moment at which the current is held; undefined where it does not fall. */
function heldUntil(points, after) {
  const held = points.filter(([at]) => at >= after);
  const level = HELD_SHARE * Math.max(0, ...held.map(([, value]) => value));
  const last = held.findLast(([, value]) => value >= level)?.[0];
  return last === points.at(-1)[0] ? undefined : last;
}

/** Stroke, overtravel, rebound in mm and the mean speed over the zone in m/s; null: nothing moves. */
export function travelFigures(points, zone) {
  if (points.length < 2 || points.at(-1)[1] === points[0][1]) return null;
  const way = points.at(-1)[1] > points[0][1] ? 1 : -1;
  const moved = points.map(([at, value]) => [at, way * (value - points[0][1])]);
  const stroke = moved.at(-1)[1];
  const furthest = moved.reduce((most, point) => (point[1] > most[1] ? point : most));
  const back = Math.min(...moved.filter(([at]) => at >= furthest[0]).map(([, value]) => value));
  return {
    stroke,
    overtravel: furthest[1] - stroke,
    rebound: Math.max(0, stroke - back),
    speed: zone && meanSpeed(moved, zone),
  };
}

function meanSpeed(moved, [from, to]) {
  const [begins, ends] = [from, to].map((level) => crossing(moved, level));
  return ends > begins ? (to - from) / (ends - begins) : null;
}

/** The marks, those that a person set before found ones. */
export function marksInForce(found, conditions) {
  const said = MARKS.map((mark) => [mark, conditions[`mark_${mark}_ms`] ?? found[mark]]);
  return Object.fromEntries(said.filter(([, at]) => typeof at === "number"));
}

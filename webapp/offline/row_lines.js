/**
 * What a rule reads off a row of readings, to be drawn: places with their names, and a band.
 *
 * webapp/words/row_lines.py says what each means.
 */

import { applies } from "./judge.js";
import { kneeOf, whereReached } from "./knee.js";
import { derivedFrom } from "./measured.js";
import { pointsOf } from "./rows.js";
import { placeOf } from "./series_words.js";
import { figure } from "./words/numbers.js";

/** {marks: {name: step}, band: [from, to] or null} of the row `kind` by the rule. */
export function rowLines(rule, kind, steps, conditions) {
  const reading = { conditions };
  const parts = partsOf(rule).filter((part) => part.series === kind && applies(part, reading));
  const points = pointsOf(kind, steps);
  const placed = parts.map((part) => markOf(part, points, reading)).filter((mark) => Number.isFinite(mark?.[1]));
  const spread = parts.find(({ op }) => op === "series_spread");
  const places = spread ? [spread.shares[0], spread.shares.at(-1)].map((share) => placeOf(spread, share, reading)) : [];
  return { marks: Object.fromEntries(placed), band: places.length && places.every(Number.isFinite) ? places : null };
}

/**
 * What the value entered has to agree with, {value, unit} in the rule's unit; null where the
 * rule compares it with nothing, or the rows give no such value yet.
 */
export function offeredBy(rule, conditions) {
  const check = rule.derive?.find(({ op, expected, series }) => op === "error_pct" && expected?.on && !series);
  if (!check || !partsOf(rule).some(({ series }) => series)) return null;
  const found = derivedFrom(rule, { conditions })[check.expected.on];
  return found?.exact && Number.isFinite(found.corrected) ? { value: found.corrected, unit: rule.unit } : null;
}

/** Whether a reading under these conditions is judged by its row of this kind. */
export const readsRow = (rule, kind, conditions) =>
  [...rule.gates, ...(rule.derive ?? [])].some((part) => part.series === kind && applies(part, { conditions }));

/** The knees that decide and those that are only said, and what else is read off a row. */
function partsOf({ derive = [], notes = [] }) {
  const said = notes.filter(({ say }) => say === "other_knee").map((note) => ({ ...note, op: "knee" }));
  return [...derive, ...said];
}

function markOf(part, points, reading) {
  if (part.op === "knee") return [kneeName(part), kneeOf(part, points)];
  if (part.op === "series_where") return [`${figure(part.value, 3)} A`, whereReached(points, part.value)];
  if (part.op === "series_at" && part.share) return [`${figure(100 * part.share, 3)} %`, placeOf(part, part.share, reading)];
  return null;
}

function kneeName(part) {
  if (part.by === "slope") return `knee ${part.degrees}°`;
  return `knee +${part.step_pct} % V, +${part.value_pct} % A`;
}

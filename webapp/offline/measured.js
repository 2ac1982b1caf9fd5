/**
 * A reading as numbers: in the unit of its rule, at the reference temperature, with U, and
 * beside it the conditions and what the rule derives from them.
 */

import { angleOf, magnitudeOf, wrapped } from "./angles.js";
import { settledBy } from "./bands.js";
import { correctionFactor, CORRECTIONS } from "./correction.js";
import { carried, rateOf, temperatureOf, vapourOf } from "./gas.js";
import { applies, checkRule, known } from "./judge.js";
import { ofRange } from "./ranges.js";
import { baseOf } from "./said.js";
import { FROM_ROWS, rowFault } from "./series_words.js";
import { readTyped } from "./typed.js";
import { convert, convertDifference, expandedU } from "./units.js";

const DECISIONS = ["simple", "guarded"];

// What is derived from two numbers.
const DERIVE = {
  plus: (x, y) => x + y,
  minus: (x, y) => x - y,
  over: (x, y) => x / y,
  error_pct: (x, y) => 100 * (x / y - 1),
};
// What is derived otherwise.
const OWN = { rate: rateOf, vapour: vapourOf, angle: angleOf, magnitude: magnitudeOf };
const OPS = [...Object.keys(DERIVE), ...Object.keys(OWN), ...Object.keys(FROM_ROWS)];
const QUOTIENTS = { over: 1, error_pct: 100 }; // what a quotient is multiplied by
const SIGNED = ["minus", "error_pct"]; // what these give may always lie below zero

/**
 * Read an item {rule, reading} for `judge` of judge.js, with the procedures by name: {rule, reading, typed, unit, value,
 * factor, stated, beyondRanges, measured, values, asRead, expected}. `values` has by name the reading, what is derived, and the
 * conditions that are numbers; the factor is null where there is no correction. `asRead` is
 * the reading before it, where something is derived; `expected` has what is expected by
 * the bound that says it, `settled` what bands and angles come to.
 *
 * Throws InputError as `checkReading` of typed.js does, CriteriaError for an unknown word.
 */
export function readItem({ rule, reading }, procedures) {
  if (!checked.has(rule)) check(rule);
  const { typed, unit, value } = readTyped(procedures, rule.procedure, reading);
  const stated = accuracyAt(rule, reading.accuracy, value, unit);
  const factor = correctionFactor(rule.correction, reading.conditions.temperature_c ?? NaN);
  const beyondRanges = stated === undefined; // no accuracy is stated at the value
  const item = { rule, reading, typed, unit, value, factor, stated, beyondRanges };
  const values = rule.v < 3 ? {} : conditionsOf(rule, reading);
  const read = value === null ? null : inUnitOf(rule, item);
  if (rule.derive?.length) {
    item.asRead = values.reading = read && multiplied(read, 1, item);
    deriveAll(item, values, ({ after }) => !after);
  }
  item.measured = read && multiplied(read, factor || 1, item);
  if (read && rule.correction.by === "isochor") carryAlong(item, values);
  values.reading = item.factor ? item.measured : null;
  if (rule.derive?.length) deriveAll(item, values, ({ after }) => after);
  const expected = rule.v < 3 ? null : expectedBy(rule.bounds, values);
  const settled = expected && settledBy(rule.bounds, values, expected);
  return { ...item, values, expected, settled, rowFaults: rowFaultsOf(rule, reading, values) };
}

/** What is wrong with the row that a gate is for, by the gate. */
function rowFaultsOf({ gates }, reading, values) {
  const faults = gates.filter(({ series }) => series).map((gate) => [gate, rowFault(gate, reading, values)]);
  return new Map(faults);
}

const checked = new WeakSet(); // rules, each of which judges many readings

function check(rule) {
  checkRule(rule);
  known(rule.correction.by, CORRECTIONS);
  known(rule.decision, DECISIONS);
  for (const { op } of rule.derive ?? []) known(op, OPS);
  checked.add(rule);
}

/** Carry a gas pressure, absolute, to the reference temperature; the factor is null where not. */
function carryAlong(item, values) {
  const { rule, measured: read } = item;
  item.asRead = read;
  const pressure = rule.correction.of ? values[rule.correction.of] : read;
  const at = temperatureOf(rule, values, "temperature_c");
  const found = pressure && at ? carried(rule.correction, pressure, at, number) : null;
  Object.assign(item, { pressure, density: found?.density ?? null });
  if (found) item.measured = found.value;
  else item.factor = null;
}

/** The accuracy that guards a value; null without one, undefined beyond all its ranges. */
function accuracyAt({ decision }, accuracy, value, unit) {
  if (!accuracy || value === null || decision !== "guarded") return null;
  return accuracy.ranges ? ofRange(accuracy.ranges, value, unit) : accuracy;
}

/** The reading's ends, the number shown and U (null without an accuracy). */
function inUnitOf(rule, { typed, unit, value, stated }) {
  const [low, high, shown] = [typed.low, typed.high, value].map((one) =>
    convert(one, unit, rule.unit),
  );
  const u = stated ? convertDifference(expandedU(stated, value, unit), unit, rule.unit) : null;
  return { low, high, shown, u };
}

function multiplied({ low, high, shown, u }, factor, { rule, reading }) {
  const ends = [low * factor, high * factor, shown * factor];
  return number(...ends, { expanded: u && u * factor, base: baseOf(rule, reading), signed: rule.signed });
}

/** A number as it is compared: from `low` to `high`, and with U from `least` to `most`. */
function number(low, high, corrected, { expanded = null, base = "", signed = false }) {
  // What is not signed is not negative, but where it was divided by what is.
  const from = signed || low > -Infinity || high < 0 ? low : 0;
  const [least, most] = [from - expanded, high + expanded];
  const exact = from === high;
  return { low: from, high, corrected, expanded, least, most, exact, base, signed };
}

function conditionsOf({ decision }, { conditions, conditions_accuracy: accuracies = {} }) {
  const values = {};
  for (const [name, value] of Object.entries(conditions)) {
    if (!Number.isFinite(value)) continue;
    const known = accuracies[name] && decision === "guarded";
    values[name] = exactly(value, known ? expandedU(accuracies[name], value, null) : null);
  }
  return values;
}

const exactly = (value, expanded) => number(value, value, value, { expanded, signed: true });

/** Work out each part in order; where its `when` does not fit it is what it is `of`. */
function deriveAll(item, values, wanted) {
  const { rule, reading } = item;
  for (const part of rule.derive.filter(wanted)) {
    const of = values[part.of ?? "reading"];
    const own = OWN[part.op];
    const work = () => (own ? own(part, of, { rule, values, item, make: number }) : derived(values, part, of));
    if (!applies(part, reading)) values[part.name] = of;
    else values[part.name] = FROM_ROWS[part.op] ? fromRow(item, part) : of && work();
  }
}

/** What the rule derives before anything is read, by name: from conditions and rows alone. */
export function derivedFrom(rule, reading) {
  const values = conditionsOf(rule, reading);
  deriveAll({ rule, reading, asRead: null }, values, () => true);
  return values;
}

/** A number of a row of readings; undefined where there is none. */
function fromRow({ rule, reading, asRead }, part) {
  const found = FROM_ROWS[part.op](part, reading, asRead);
  if (typeof found === "string") return undefined;
  const { low, high, shown, u, signed } = found;
  const expanded = part.unit === rule.unit ? u : null; // the same instrument showed it
  return number(low, high, shown, { expanded, base: part.unit ?? "", signed });
}

/** A number of two, with U by the derivatives: JCGM 100:2008 (GUM) 5.1.2. */
function derived(values, { op, by, expected, unit, signed, wrap }, x) {
  const y = operand(values, op === "error_pct" ? expected : by);
  const work = DERIVE[op];
  const scale = QUOTIENTS[op];
  if (!y || (scale && !(y.low > 0 || y.high < 0))) return undefined; // not by 0
  let shown = work(x.corrected, y.corrected);
  if (!Number.isFinite(shown)) return undefined;
  const ends = [x.low, x.high].flatMap((end) => [work(end, y.low), work(end, y.high)]);
  if (ends.some(Number.isNaN)) ends.splice(0, 4, -Infinity, Infinity); // of two without end
  if (wrap) {
    const exact = Math.min(...ends) === Math.max(...ends);
    shown = wrapped(shown, wrap);
    ends.splice(0, 4, ...(exact ? [shown] : [-wrap / 2, wrap / 2]));
  }
  const slope = scale ? scale / y.corrected : 1;
  const other = scale ? (slope * x.corrected) / y.corrected : 1;
  const known = x.expanded !== null || y.expanded !== null;
  return number(Math.min(...ends), Math.max(...ends), shown, {
    expanded: known ? Math.hypot(slope * x.expanded, other * y.expanded) : null,
    base: unit ?? x.base,
    signed: Boolean(signed || SIGNED.includes(op) || x.signed),
  });
}

const operand = (values, by) => (typeof by === "number" ? exactly(by) : values[by.on]);

/** What is expected, by the bound that says it. */
function expectedBy(bounds, values) {
  return new Map(bounds.map((bound) => [bound, expectedOf(bound, values)]));
}

/** A number, or of a condition or derived value: a multiple, or on straight lines. */
export function expectedOf({ expected }, values) {
  if (typeof expected !== "object") return expected;
  const at = values[expected.on]?.corrected ?? NaN;
  const { times = 1, plus = 0, points } = expected;
  return points ? lineAt(points, at) : at * times + plus;
}

/** The value between two points, joined straight; NaN beyond the ends. */
function lineAt(points, at) {
  const next = points.findIndex(([x]) => x >= at);
  const [x1, y1] = points[next] ?? [];
  if (x1 === at) return y1;
  const [x0, y0] = points[next - 1] ?? [];
  return y0 + ((y1 - y0) * (at - x0)) / (x1 - x0);
}

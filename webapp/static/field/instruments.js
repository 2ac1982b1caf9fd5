// What an instrument can do, as models/record/instrument.py has it: what is stated of a
// reading, what is beyond it, and which instruments fit a card.

import { convert, parseValue, quantityOf, unitName } from "/offline/reader.js";

const SUPPLIES = ["ac", "dc"];
const NEAR = 1e-9; // relative, as in the core

/** The accuracy of what is read in a unit, as `judge` takes it; null where none is stated. */
export function accuracyOf(ranges, unit, conditions) {
  const stated = showing(ranges, unitName(unit ?? ""), supplyOf(conditions)).filter(isStated);
  if (!stated.length) return null;
  const [{ pct_reading: pct, fixed, digits, resolution, unit: own, high }] = stated;
  if (high === null) return { pct: pct ?? 0, fixed: (fixed ?? 0) + (digits ?? 0) * (resolution ?? 0), unit: own };
  return { ranges: stated.map(rangeOf) };
}

const isStated = (one) =>
  ["pct_reading", "pct_range", "digits", "resolution", "fixed"].some((name) => one[name] !== null);

function rangeOf({ low, high, unit, pct_reading: pct, pct_range, digits, resolution, fixed }) {
  return {
    low,
    high,
    unit,
    pct: pct ?? 0,
    pct_range: pct_range ?? 0,
    digits: digits ?? 0,
    resolution: resolution ?? 0,
    fixed: fixed ?? 0,
  };
}

/** The ranges that show a value in a unit, of a supply where one is named. */
function showing(ranges, unit, supply) {
  return ranges.filter(
    (one) =>
      one.does === "reads" &&
      (one.unit === null || quantityOf(one.unit) === quantityOf(unit)) &&
      (!supply || one.supply === null || one.supply === supply),
  );
}

const supplyOf = ({ supply, method }) => [supply, method].find((one) => SUPPLIES.includes(one));

/**
 * What is beyond an instrument: supply, level, reading, or undefined. *asks* are those of
 * the procedure; *reading* {text, unit} may be left out.
 */
export function beyond(ranges, asks, conditions, reading = {}) {
  const supply = supplyOf(conditions);
  const applies = ranges.filter(({ does }) => does === "applies");
  const puts = applies.map((one) => one.supply);
  if (supply && puts.length && !puts.includes(null) && !puts.includes(supply)) return "supply";
  if (levelBeyond(applies, asks, conditions, supply)) return "level";
  return readingBeyond(ranges, reading, supply) ? "reading" : undefined;
}

/** The condition whose level none of the ranges reaches, with those ranges; or undefined. */
export function levelBeyond(applies, asks, conditions, supply = supplyOf(conditions)) {
  for (const ask of asks.filter(({ applied }) => applied)) {
    const level = conditions[ask.name];
    const unit = unitName(ask.unit ?? "");
    const typed = level === undefined || level === null || level === "" ? NaN : Number(level);
    if (!unit || !Number.isFinite(typed)) continue;
    const own = applies.filter(
      (one) =>
        quantityOf(one.unit) === quantityOf(unit) &&
        (!supply || one.supply === null || one.supply === supply),
    );
    if (own.length && !own.some((one) => reaches(one, typed, unit))) return { ask, ranges: own };
  }
  return undefined;
}

function reaches({ low, high, unit: own }, level, unit) {
  if (low === null || high === null) return true;
  const here = convert(level, unit, own);
  return atLeast(here, low) && atLeast(high, here);
}

const atLeast = (a, b) => a >= b || b - a <= NEAR * Math.max(Math.abs(a), Math.abs(b));

function readingBeyond(ranges, { text, unit }, supply) {
  const least = leastOf(text);
  const name = unitName(unit ?? "");
  if (!Number.isFinite(least) || !name) return false;
  const ends = showing(ranges, name, supply).filter(({ unit: own, high }) => own && high);
  const high = Math.max(...ends.map((one) => convert(one.high, one.unit, name)));
  return ends.length > 0 && !atLeast(high, least);
}

/** The least that was read; NaN for an outcome, and for what is no value yet. */
function leastOf(text) {
  try {
    return parseValue(text ?? "").low ?? NaN;
  } catch {
    return NaN;
  }
}

/** Why an instrument does not fit a card under these conditions; undefined where it does. */
export function whyNot(instrument, name, { units, outcomes, asks }, conditions) {
  if (!instrument.procedures.includes(name)) return "unfit.procedure";
  const reads = instrument.ranges.filter(({ does }) => does === "reads");
  const shows = reads.some(({ unit }) => !unit || units.some((one) => quantityOf(one) === quantityOf(unit)));
  if (reads.length && units.length && !outcomes.length && !shows) return "unfit.quantity";
  const found = beyond(instrument.ranges, asks, conditions);
  return found && `unfit.${found}`;
}

/**
 * Units and what they convert to, and U of what an instrument of a stated accuracy shows.
 *
 * `tables.js` has the units of models/judging/quantities.py as the server gives them: by
 * name the quantity, the factor to its first unit as numerator and denominator, where the
 * zero of that one lies on the unit's own scale, and how the unit is said.
 */

import { UNITS } from "./tables.js";

const COVERAGE = 2; // k

/** What was typed cannot be used; `fault` is {field, code} and what its words need. */
export class InputError extends Error {
  constructor(field, code, details) {
    super(code);
    this.fault = { field, code, ...details };
  }
}

/** The quantity that a unit belongs to. */
export function quantityOf(unit) {
  return Object.hasOwn(UNITS, unit ?? "") ? UNITS[unit].quantity : undefined;
}

/** A value in the unit `to`; InputError when the two are not of one quantity. */
export function convert(value, unit, to) {
  const [from, there] = [UNITS[unit].zero, UNITS[to].zero];
  if (from === there) return convertDifference(value, unit, to);
  return convertDifference(value - from, unit, to) + there;
}

/** A value in the first unit of its quantity, in which values of all its units compare. */
export function inFirstUnit(value, unit) {
  const { zero, times, over } = UNITS[unit];
  return ((value - zero) * times) / over;
}

/** A difference in the unit `to`: wherever the scales have their zeros. */
export function convertDifference(value, unit, to) {
  const [given, asked] = [UNITS[unit], UNITS[to]];
  if (given.quantity !== asked.quantity) {
    throw new InputError("unit", "other_quantity", { unit, wanted: asked.quantity });
  }
  return (value * (given.times * asked.over)) / (given.over * asked.times);
}

/**
 * U (k = 2) of a value in `unit`, in that unit; accuracy is {pct, fixed, unit}.
 *
 * The stated limits are taken as a rectangular distribution: standard uncertainty =
 * half-width / sqrt(3). Source: JCGM 100:2008 (GUM) 4.3.7; expanded with k = 2, 6.2.
 */
export function expandedU(accuracy, value, unit) {
  const { pct, fixed, unit: stated } = accuracy;
  const own = stated && stated !== unit ? convertDifference(fixed, stated, unit) : fixed;
  const halfWidth = (pct / 100) * Math.abs(value) + own;
  return (COVERAGE * halfWidth) / Math.sqrt(3);
}


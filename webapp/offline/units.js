/**
 * Units and what they convert to, and U of what an instrument of a stated accuracy shows.
 */

const COVERAGE = 2; // k

/**
 * Quantity: its units, and their factors to MOhm, s or Pa as numerator and denominator.
 * Exact powers of ten but for the torr: 101 325 Pa / 760 (SI brochure, 9th edition,
 * note).
 */
const QUANTITIES = {
  resistance: {
    uOhm: [1, 1e12], mOhm: [1, 1e9], Ohm: [1, 1e6], kOhm: [1, 1e3],
    MOhm: [1, 1], GOhm: [1e3, 1], TOhm: [1e6, 1],
  },
  time: { s: [1, 1], ms: [1, 1e3] },
  pressure: { Pa: [1, 1], mbar: [100, 1], Torr: [101325, 760] },
};

/** What was typed cannot be used; `fault` is {field, code} and what its words need. */
export class InputError extends Error {
  constructor(field, code, details) {
    super(code);
    this.fault = { field, code, ...details };
  }
}

/** The quantity that a unit belongs to. */
export function quantityOf(unit) {
  return Object.keys(QUANTITIES).find((quantity) => Object.hasOwn(QUANTITIES[quantity], unit));
}

/** A value in the unit `to`; InputError when the two are not of one quantity. */
export function convert(value, unit, to) {
  const wanted = quantityOf(to);
  const { [unit]: given, [to]: asked } = QUANTITIES[wanted];
  if (!given) throw new InputError("unit", "other_quantity", { unit, wanted });
  return (value * (given[0] * asked[1])) / (given[1] * asked[0]);
}

/** A difference in the unit `to`: no zero is moved. */
export const convertDifference = convert;

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


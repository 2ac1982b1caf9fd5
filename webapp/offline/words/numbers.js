/**
 * Numbers and units for people: rounded to be read, alike in Python and JavaScript.
 *
 * Rounding is that of IEEE 754 decimal conversion: the exact binary value to the
 * nearest, an exact tie to the even digit. toFixed and toExponential take a tie
 * upwards (12345 to 1.235e+4), so the digits are rounded here.
 */

import { splitBase } from "../said.js";
import { UNITS } from "../tables.js";
import { convertDifference } from "../units.js";

const DIGITS = 4; // significant digits shown in a working
const SETTING_DIGITS = 10; // enough for any setting or published limit
const FACTOR_DIGITS = 6; // a factor with more of them was worked out, and not written
const SMALLEST_PLAIN = -5; // decimal exponent below which a figure is written with e
const WHOLE = 1e15; // from here on nothing that is said stands behind the point

/*
 * Digits after the first that toExponential gives quickly, and the most that it gives. A
 * number is a tie only if its digits end right after the 5; one that is not a tie
 * differs from it well before the 100th digit, and mostly before the 16th.
 */
const SOON = 16;
const EVERY_DIGIT = 100;

// unit -> (from this value on, shown in, divided by), largest first
const STEPS = new Map([
  ["MOhm", [[1e6, "TOhm", 1e6], [1e3, "GOhm", 1e3]]],
  ["uOhm", [[1e6, "Ohm", 1e6], [1e3, "mOhm", 1e3]]],
]);

/** A value with so many significant digits. */
export function figure(value, digits = DIGITS) {
  if (value === 0) return "0";
  const sign = value < 0 ? "-" : "";
  // Infinite is the quotient of two that no instrument shows.
  if (Math.abs(value) === Infinity) return `${sign}∞`;
  const [kept, exponent] = rounded(Math.abs(value), digits);
  if (exponent < SMALLEST_PLAIN) return `${sign}${pointed(kept, 1)}e${exponent}`;
  if (exponent < 0) return `${sign}0.${"0".repeat(-exponent - 1)}${kept}`;
  if (exponent < digits) return sign + pointed(kept, exponent + 1);
  return sign + kept + "0".repeat(exponent - digits + 1);
}

/** The significant digits of a positive value, and its decimal exponent. */
function rounded(value, digits, given = SOON) {
  const [mantissa, power] = value.toExponential(given).split("e");
  const every = mantissa.replace(".", "");
  const head = every.slice(0, digits);
  const tail = every.slice(digits);
  const half = "5".padEnd(tail.length, "0");
  if (tail === half && given < EVERY_DIGIT) return rounded(value, digits, EVERY_DIGIT);
  const odd = Number(head[digits - 1]) % 2 === 1;
  const up = tail > half || (tail === half && odd);
  const kept = String(Number(head) + (up ? 1 : 0));
  const carried = kept.length - digits;
  return [kept.slice(0, digits), Number(power) + carried];
}

function pointed(digits, whole) {
  if (whole === digits.length) return digits;
  return `${digits.slice(0, whole)}.${digits.slice(whole)}`;
}

/** A value as a setting is written: 27, 2.5, 0.035. */
export function plain(value) {
  return withoutZeros(figure(value, SETTING_DIGITS));
}

/** A figure without the zeros that end it behind the point. */
function withoutZeros(text) {
  const [mantissa, exponent] = text.split("e");
  const short = mantissa.includes(".") ? mantissa.replace(/\.?0+$/, "") : mantissa;
  return exponent === undefined ? short : `${short}e${exponent}`;
}

/**
 * A value of a base unit in the unit in which people say it. What stands beside
 * another value, as U does, is said in the unit of that one.
 */
export function amount(value, unit, beside = value) {
  const { words, over } = scaleFor(beside, unit);
  return figure(value / over) + words;
}

/** The unit in which a value is said, with the space before it, and what divides it. */
export function scaleFor(value, base) {
  const [unit, said] = splitBase(base);
  if (said) return { words: ` ${saidUnit(said)}`, over: oneOf(said, unit) };
  const step = STEPS.get(unit)?.find(([start]) => Math.abs(value) >= start);
  const [, shown, over] = step ?? [0, unit, 1];
  const words = saidUnit(shown);
  return { words: words ? ` ${words}` : "", over };
}

/** How many of `base` one of `said` is; of a unit that is only a word 1. */
function oneOf(said, base) {
  const [one, other] = [said, base].map((unit) => (Object.hasOwn(UNITS, unit) ? UNITS[unit].quantity : unit));
  return one === other ? convertDifference(1, said, base) : 1;
}

/** A setting or a limit with its unit as it was written: 120 V. */
export function written(value, unit) {
  const { words, over } = scaleFor(0, unit);
  return plain(value / over) + words;
}

/** A factor as it was written; one that was worked out with four digits. */
export function asFactor(value) {
  const text = plain(value);
  const digits = text.split("e")[0].replace("-", "").replace(".", "").replace(/^0+/, "");
  if (digits.length <= FACTOR_DIGITS) return text;
  return withoutZeros(figure(value));
}

/** A value to one decimal place, a half upwards, without a trailing 0. */
export function tenths(value) {
  if (Math.abs(value) >= WHOLE) return plain(value);
  return plain(Math.floor(10 * value + 0.5) / 10);
}

/** The unit as people write it. */
export function saidUnit(unit) {
  return Object.hasOwn(UNITS, unit ?? "") ? UNITS[unit].said : (unit ?? "");
}

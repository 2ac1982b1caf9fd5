/**
 * What was typed, as the interval in which the true value lies, or as an outcome.
 */

import { InputError } from "./errors.js";

// Digits are 0 to 9 only: other scripts' digits are refused, not guessed.
const NUMBER = /^[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]+)?$/;

// Spaces of every kind, and the marks that text editors leave.
const BLANK = "[\\p{Zs}\\p{Zl}\\p{Zp}\\p{Cf}\\p{Cc}]";
const LEADING = new RegExp(`^${BLANK}+`, "u");
const TRAILING = new RegExp(`${BLANK}+$`, "u");
const SEPARATOR = new RegExp(`${BLANK}|['_]`, "u");

const OUTCOMES = ["held", "broke_down", "no_trip"];
export const LARGEST = 1e30; // beyond that a figure is a slip of the finger

/**
 * Read a typed value: `4.2`, `>200`, `<0.01`, `3e-4`, `held` ...
 *
 * Gives {low, high}, infinite on a side where nothing is known, or {outcome}.
 * Throws InputError saying what is wrong and what to type instead; never guesses
 * (4,2 is neither 4.2 nor 42).
 */
export function parseValue(text) {
  const [sign, number] = parts(text);
  if (!sign && OUTCOMES.includes(number)) return { outcome: number };
  if (!number) throw fault("Enter a value.");
  if (!NUMBER.test(number)) throw fault(whyNoNumber(number));
  const value = Number(number);
  if (!(Math.abs(value) < LARGEST)) {
    throw fault(`'${number}' is out of all proportion; check it.`);
  }
  if (sign === ">") return { low: value, high: Infinity };
  if (sign === "<") return { low: -Infinity, high: value };
  return { low: value, high: value };
}

/** Whether a parsed value is a number or a bound, and not an outcome. */
export function isInterval(value) {
  return value.outcome === undefined;
}

/** Whether a parsed value is one number. */
export function isExact(value) {
  return isInterval(value) && value.low === value.high;
}

/** The number shown: the value itself, or the bound that is known. */
export function boundOf(value) {
  return value.low === -Infinity ? value.high : value.low;
}

/** A typed value without the blanks and marks that nobody sees. */
export function legible(text) {
  return parts(text).join("");
}

function parts(text) {
  const typed = trimmed(text);
  const sign = /^[<>]/.test(typed) ? typed[0] : "";
  return [sign, trimmed(typed.slice(sign.length))];
}

function trimmed(text) {
  return text.replace(LEADING, "").replace(TRAILING, "");
}

function whyNoNumber(number) {
  if (number.includes(",")) {
    return (
      `'${number}' has a comma: write the decimal point as '.', ` +
      "and no thousands separators."
    );
  }
  if (SEPARATOR.test(number)) {
    return `'${number}' has a separator in it: write the digits without.`;
  }
  return (
    `'${number}' is not a number: write 4.2, >200 when the instrument is over ` +
    "range, <0.01 when it is under range."
  );
}

function fault(message) {
  return new InputError({ field: "value", message });
}

/**
 * What was typed, as a value and a unit: a text is read rightly or refused, never guessed.
 */

import { CriteriaError, LARGEST } from "./judge.js";
import { OUTCOMES, SPELLINGS } from "./tables.js";
import { InputError, quantityOf } from "./units.js";

// Greek omega and ohm sign, micro sign and Greek mu: all of them are typed.
const OHM_SPELLINGS = /(ohms?|Ohms|OHM|[\u03a9\u2126]s?)$/;
const MICRO_SIGNS = /[\u00b5\u03bc]/g;

// What Python calls white space: \s knows neither 1C to 1F nor 85, but FEFF.
export const WHITE_SPACE = /[^\S\ufeff]|[\x1c-\x1f\x85]/g;

// Spaces of every kind, and the marks that text editors leave.
const OUTER_BLANKS = /^[\p{Z}\p{Cf}\p{Cc}]+|[\p{Z}\p{Cf}\p{Cc}]+$/gu;

// Digits are 0 to 9 only: other scripts' digits are refused, not guessed.
const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

/**
 * What was typed as a reading of the procedure of this name: {typed, unit, value}, the last
 * one the number shown, null for an outcome. Throws as `checkReading` does, and
 * CriteriaError for a procedure that is not among those of `procedures`.
 */
export function readTyped(procedures, name, { text, unit: symbol }) {
  if (!Object.hasOwn(procedures, name)) {
    throw new CriteriaError(`a rule says '${name}', which is no procedure`);
  }
  const { value: typed, unit } = checkReading(procedures[name], text, symbol);
  return { typed, unit, value: typed.outcome ? null : boundOf(typed) };
}

/** The number shown: the value itself, or the bound that is known. */
const boundOf = ({ low, high }) => (low === -Infinity ? high : low);

/**
 * Read a typed value: `4.2`, `>200`, `<0.01`, `3e-4`, `held` ...
 *
 * Gives {low, high}, infinite on a side where nothing is known, or {outcome}. Throws
 * InputError; never guesses (4,2 is neither 4.2 nor 42). *refusal* is the code of the fault
 * for a word.
 */
export function parseValue(text, refusal = "no_number") {
  const [sign, number] = splitSign(text);
  if (!sign && OUTCOMES.includes(number)) return { outcome: number };
  if (!NUMBER.test(number)) refuse("value", refusal, { number });
  const value = Number(number) + 0; // a typed -0 is 0
  if (!(Math.abs(value) < LARGEST)) refuse("value", "too_large", { number });
  return { low: sign === "<" ? -Infinity : value, high: sign === ">" ? Infinity : value };
}

/** A typed value's sign and digits, without the blanks and marks that nobody sees. */
export function splitSign(text) {
  const [, sign, number] = /^([<>]?)(.*)$/s.exec(text.replace(OUTER_BLANKS, ""));
  return [sign, number.replace(OUTER_BLANKS, "")];
}

function refuse(field, code, details) {
  throw new InputError(field, code, details);
}

/**
 * What was typed as a reading of a procedure {title, units, outcomes, signed}: {value, unit}.
 *
 * Throws InputError: not a number, a unit that does not fit, a negative reading, an
 * outcome that this test does not have.
 */
export function checkReading(procedure, text, symbol) {
  const { units, outcomes, signed } = procedure;
  const value = parseValue(text);
  const given = { procedure, symbol, ...value };
  if (outcomes.includes(value.outcome)) return { value, unit: null };
  if (value.outcome || units.length === 0) refuse("value", "other_kind", given);
  const unit = unitName(symbol ?? "");
  if (!units.includes(unit)) refuse("unit", "other_unit", given);
  if (!signed && boundOf(value) < 0) refuse("value", "negative", given);
  return { value, unit };
}

/**
 * Our name of the unit that a symbol stands for, or null.
 *
 * MΩ, Mohm and MOhm are one unit; M and m are not.
 */
export function unitName(symbol) {
  const plain = symbol.replace(WHITE_SPACE, "").replace(MICRO_SIGNS, "u");
  const spelled = plain.replace(OHM_SPELLINGS, "Ohm");
  const unit = Object.hasOwn(SPELLINGS, spelled) ? SPELLINGS[spelled] : spelled;
  return quantityOf(unit) ? unit : null;
}


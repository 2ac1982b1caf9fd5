/**
 * A reading for people: its numbers in the unit in which they were compared.
 */

import { splitSign } from "../typed.js";
import { say } from "./catalogue.js";
import { amount, saidUnit } from "./numbers.js";

/** A value in the unit of what was compared. */
export function shown({ base }, value) {
  return amount(value, base);
}

/** U, in the unit of the value that it belongs to. */
export function shownU({ base, expanded, corrected }) {
  return amount(expanded, base, corrected);
}

/** The reading as it was typed, with its unit, without marks that nobody sees. */
export function typedWords({ reading, unit }) {
  return `${splitSign(reading.text).join("")} ${saidUnit(unit)}`.trim();
}

/** The value as the bound that it may be only. */
export function bounded({ exact, high }, value) {
  if (exact) return value;
  return say(high === Infinity ? "value.at_least" : "value.at_most", { value });
}

/**
 * A reading for people: its numbers in the unit of its rule.
 */

import { splitSign } from "../typed.js";
import { amount, saidUnit } from "./numbers.js";

/** A value in the rule's unit. */
export function say({ rule }, value) {
  return amount(value, rule.unit ?? "");
}

/** U, in the unit of the value that it belongs to. */
export function sayU({ rule, expanded, corrected }) {
  return amount(expanded, rule.unit ?? "", corrected);
}

/** The reading as it was typed, with its unit, without marks that nobody sees. */
export function typedWords({ reading, unit }) {
  return `${splitSign(reading.text).join("")} ${saidUnit(unit)}`.trim();
}

/** Words for the value as the bound that it may be only. */
export function bounded({ exact, high }, words) {
  if (exact) return words;
  return `${high === Infinity ? "At least" : "At most"} ${words}`;
}

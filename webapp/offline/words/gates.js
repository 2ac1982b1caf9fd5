/**
 * What was read, and what was wanting, in words.
 */

import { plain, saidUnit } from "./numbers.js";
import { typedWords } from "./said.js";

const CONDITION_WORDS = new Map([
  ["test_kv", "test voltage"],
  ["test_current_a", "test current"],
]);

/** What was typed, where it is not one number. */
export function readWords(state) {
  const { typed, numeric, exact, value, unit } = state;
  if (!numeric) return [`Observed: ${typed.outcome.replaceAll("_", " ")}.`];
  if (exact) return [];
  const side = typed.low === -Infinity ? "at most" : "at least";
  const said = `${plain(value)} ${saidUnit(unit)}`;
  return [`Read ${typedWords(state)}: ${side} ${said}, and no more is known.`];
}

/** A reason of the rule, or the least that was wanted of a condition. */
export function gateWords({ reading }, { part }) {
  if (part.at_least === undefined) return part.reason;
  const what = CONDITION_WORDS.get(part.on) ?? part.on;
  const wanted = `${plain(part.at_least)} ${part.unit}`;
  const value = reading.conditions[part.on] ?? null;
  if (value === null) return `The ${what} is not known; ${wanted} is wanted.`;
  return `The ${what} ${plain(value)} ${part.unit} is below the ${wanted} that is wanted.`;
}

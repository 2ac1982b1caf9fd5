/**
 * What was read, and what was wanting, in words.
 */

import { join, say } from "./catalogue.js";
import { conditionLabel } from "./labels.js";
import { plain, saidUnit } from "./numbers.js";
import { typedWords } from "./shown.js";

/** What was typed, where it is not one number. */
export function readWords(state) {
  const { typed, numeric, value, unit } = state;
  if (!numeric) return [say("read.outcome", { outcome: say(`outcome.${typed.outcome}`) })];
  if (typed.low === typed.high) return [];
  const id = typed.low === -Infinity ? "read.at_most" : "read.at_least";
  return [say(id, { typed: typedWords(state), value: `${plain(value)} ${saidUnit(unit)}` })];
}

/** A reason of the rule, or what was wanted of a condition. */
export function gateWords(state, { part }) {
  if (part.at_least !== undefined) return limitWords(state, part, "at_least");
  if (part.at_most !== undefined) return limitWords(state, part, "at_most");
  if (part.one_of) return choiceWords(state, part);
  return part.reason;
}

function limitWords({ reading, values }, part, kind) {
  const what = conditionLabel(part.on);
  const wanted = `${plain(part[kind])} ${part.unit}`;
  const value = values[part.on]?.corrected ?? reading.conditions[part.on] ?? null;
  if (value === null) return say(`gate.${kind}.unknown`, { what, wanted });
  return say(`gate.${kind}`, { what, value: `${plain(value)} ${part.unit}`, wanted });
}

function choiceWords({ reading }, part) {
  const what = conditionLabel(part.on);
  const wanted = join("list.or", part.one_of);
  const value = reading.conditions[part.on] ?? null;
  if (part.reason) return part.reason;
  if (value === null) return say("gate.one_of.unknown", { what, wanted });
  return say("gate.one_of", { what, value: String(value), wanted });
}

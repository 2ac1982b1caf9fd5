/**
 * What was read, and what was wanting, in words.
 */

import { join, say } from "./catalogue.js";
import { nameOf } from "./names.js";
import { figure, plain, saidUnit } from "./numbers.js";
import { rowGateWords } from "./rows.js";
import { typedWords } from "./shown.js";

const DIGITS = 6; // significant digits of a derived value: enough to tell it from its limit

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
  if (part.series) return rowGateWords(state, part);
  if (part.at_least !== undefined || part.at_most !== undefined) {
    const said = limitWords(state, part);
    return part.with_reason ? `${said} ${part.reason}` : said;
  }
  if (part.one_of) return choiceWords(state, part);
  return part.reason;
}

function limitWords(state, { on, label, unit, ...part }) {
  const what = nameOf(state, on, label);
  const inUnit = (value) => `${plain(value)} ${saidUnit(unit)}`.trim();
  const value = valueOf(state, on);
  const kind = missed(part, value);
  const wanted = inUnit(part[kind]);
  if (typeof value !== "number") return say(`gate.${kind}.unknown`, { what, wanted });
  return say(`gate.${kind}`, { what, value: inUnit(value), wanted });
}

/** Which of the ends that a gate has was missed; the first where it is not known. */
function missed({ at_least: least, at_most: most }, value) {
  const above = most !== undefined && typeof value === "number" && value > most;
  return least === undefined || above ? "at_most" : "at_least";
}

/** A derived value, or a condition as it was given; null where it is not known. */
function valueOf({ rule, values, reading }, name) {
  const derived = rule.derive?.some((part) => part.name === name);
  if (!derived) return reading.conditions[name] ?? null;
  return values[name] ? Number(figure(values[name].corrected, DIGITS)) : null;
}

/** The reason for the word that was given, or for any. */
function choiceWords(state, { on, label, one_of: words, reasons = {}, reason }) {
  const value = state.reading.conditions[on] ?? null;
  if (Object.hasOwn(reasons, value)) return reasons[value];
  if (reason !== undefined) return reason;
  const parts = { what: nameOf(state, on, label), wanted: join("list.or", words) };
  if (value === null) return say("gate.one_of.unknown", parts);
  return say("gate.one_of", { ...parts, value: String(value) });
}

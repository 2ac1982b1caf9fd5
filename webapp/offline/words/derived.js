/**
 * How a value was derived, or why it could not be.
 */

import { applies } from "../judge.js";
import { say } from "./catalogue.js";
import { GAS_WORDS } from "./gas.js";
import { isDerived, nameOf } from "./names.js";
import { amount, asFactor, plain, written } from "./numbers.js";
import { fromRowWords, notFromRowWords } from "./rows.js";

const POINTERS = ["angle", "magnitude"];

/** The arithmetic with its numbers, and U where it is known. */
export function derivedWords(state, { part, value, expanded }) {
  const unit = part.unit ?? "";
  const name = nameOf(state, part.name);
  const same = name === nameOf(state, part.of ?? "reading");
  if (same && !applies(part, state.reading)) return []; // it was said of what it passes on
  const arithmetic = [arithmeticWords(state, part, { name, value: amount(value, unit) })].flat();
  if (expanded === null) return arithmetic;
  return [...arithmetic, say("derived.u", { name, u: amount(expanded, unit, value) })];
}

function arithmeticWords(state, part, { name, value }) {
  if (!applies(part, state.reading)) return say("derived.as_it_is", { name, of: value });
  if (part.series) return fromRowWords(state, part, { name, value });
  const measured = ofAtItsTime(state, part);
  if (GAS_WORDS[part.op]) return GAS_WORDS[part.op](state, part, { name, value, of: measured });
  const of = ofWords(state, part, measured);
  const id = part.wrap ? "derived.wrap" : `derived.${part.op}`;
  return say(id, { name, of, by: inBrackets(operandWords(state, part)), value });
}

/** What a part is `of`: the reading as read, but for `after` as corrected. */
function ofAtItsTime({ values, asRead }, { of = "reading", after }) {
  return of === "reading" && !after ? asRead : values[of];
}

/** A second value as it stands behind a sign: a negative one in brackets. */
const inBrackets = (words) => (words.startsWith("-") ? `(${words})` : words);

/** The first value: a condition as it was given, with its unit. */
function ofWords({ rule }, { of = "reading", of_unit: unit = "" }, measured) {
  return of === "reading" || isDerived(rule, of) ? valueWords(measured) : written(measured.corrected, unit);
}

const valueWords = ({ corrected, base }) => amount(corrected, base);

const operandOf = ({ op, by, expected }) => (op === "error_pct" ? expected : by);

/** The second value: a derived one, a condition, or a number. */
function operandWords(state, part) {
  const by = operandOf(part);
  if (typeof by === "number") return asFactor(by);
  const value = state.values[by.on];
  if (!value) return "";
  return isDerived(state.rule, by.on) ? valueWords(value) : written(value.corrected, by.unit);
}

/** What is wanting; of a bound, that nothing can be compared. */
export function notDerivedWords(state, { part }) {
  if (!part.op) return say("not_derived.of", { what: nameOf(state, part.of) });
  const name = nameOf(state, part.name);
  if (part.series) return notFromRowWords(state, part, name);
  if (!ofAtItsTime(state, part)) {
    return say("not_derived", { name, what: nameOf(state, part.of ?? "reading") });
  }
  if (GAS_WORDS[part.op]) return say(`not_derived.${part.op}`, { name });
  const by = operandOf(part);
  if (POINTERS.includes(part.op) && (typeof by === "number" || state.values[by.on])) {
    return say("not_derived.pointer", { name });
  }
  const given = typeof by === "number" || state.values[by.on];
  const what = typeof by === "number" ? plain(by) : nameOf(state, by.on, by.label);
  return say(given ? "not_derived.by_zero" : "not_derived", { name, what });
}

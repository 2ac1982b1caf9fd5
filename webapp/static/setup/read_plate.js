// What is typed into a field of a plate: read by the one reader, in any unit that is read.

import { InputError, parseValue, unitName } from "/offline/reader.js";
import { say } from "/offline/words/catalogue.js";
import { readField } from "/static/field/read_field.js";

const CYCLES = "cycles";
const NUMBER_AND_UNIT = /^\s*([+-]?[\d.,]+(?:e[+-]?\d+)?)\s*([^\d\s].*?)\s*$/i;

/**
 * Return {value} or {text, fault}: a text that cannot be read stays as it was typed.
 *
 * *field* is as the page has it: what models/fields sends, and `reads`, the units that it
 * is read in, as {name, said, times, over, zero, zero_to}. An empty text is {value: null}.
 * *hz* is the rated frequency, for cycles.
 */
export function readPlate(field, text, hz = null) {
  const typed = text.trim();
  if (!typed) return { value: null };
  if (field.kind === "choice") return { value: typed };
  if (field.kind === "yes_no") return { value: typed === "yes" };
  if (field.kind === "text") return readText(field, typed);
  if (field.many) return readMany(field, typed);
  return kept(text, readNumber(field, typed, hz));
}

/** What a field shows of a value. */
export function shown(field, value) {
  if (value === null || value === undefined) return "";
  if (Array.isArray(value)) return value.join(" ");
  if (field.kind === "yes_no") return value ? "yes" : "no";
  return String(value);
}

function readText(field, typed) {
  const fits = typed.length <= field.longest;
  return fits ? { value: typed } : { text: typed, fault: field.refusal };
}

function readMany(field, typed) {
  const found = typed.split(/[\s;]+/).map((one) => readField(field, one));
  const wrong = found.find((one) => one.fault);
  return wrong ? { text: typed, fault: wrong.fault } : { value: found.map((one) => one.value) };
}

function kept(text, read) {
  return read.fault ? { text, fault: read.fault } : read;
}

function readNumber(field, typed, hz) {
  const parts = NUMBER_AND_UNIT.exec(typed);
  if (!parts || isNumber(typed)) return readField(field, typed);
  const [, number, symbol] = parts;
  const unit = field.reads.find((one) => names(one, symbol));
  if (!unit) {
    const units = field.reads.map((one) => one.said).join(", ");
    return units ? wrong(field, say("field.other_unit", { unit: symbol, units })) : readField(field, typed);
  }
  if (unit.name === CYCLES && !hz) return wrong(field, say("field.cycles"));
  if (!isNumber(number)) return readField(field, number);
  const value = converted(Number(number), unit, unit.name === CYCLES ? hz : 1);
  const read = readField(field, String(value));
  return read.fault ? { fault: field.refusal.replace("{typed}", () => typed) } : read;
}

function wrong({ label }, fault) {
  return { fault: say("field.fault", { label, fault }) };
}

function names({ name, said }, symbol) {
  return [name, said].includes(symbol) || unitName(symbol) === name;
}

function isNumber(text) {
  try {
    const { low, high } = parseValue(text, "no_plain_number");
    return low !== undefined && low === high;
  } catch (error) {
    if (error instanceof InputError) return false;
    throw error;
  }
}

/** A value in the field's own unit, without the noise of binary fractions. */
function converted(value, { times, over, zero, zero_to }, hz) {
  return Number((((value - zero) * times) / (over * hz) + zero_to).toPrecision(12));
}

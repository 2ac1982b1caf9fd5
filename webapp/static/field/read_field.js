// What was typed into a form: read by the one reader, refused in the words of its field.

import { InputError, parseValue } from "/offline/reader.js";
import { say } from "/offline/words/catalogue.js";

/**
 * Return {value} or {fault}, a sentence.
 *
 * A number, else by the field's kind: a text as it is, true or false for yes or no.
 * *field* is as the server sends it (models/fields): label, kind, least, above, greatest, below,
 * whole, units that may stand behind the number, and refusal, the sentence that refuses, in which {typed} stands for the text.
 */
export function readField(field, typed) {
  if (field.kind === "text") return { value: typed };
  if (field.kind === "yes_no") return YES_NO.has(typed) ? { value: YES_NO.get(typed) } : { fault: field.refusal.replace("{typed}", () => typed) };
  const [number, zero, times, over, plus] = withoutUnit(field, typed);
  let value;
  try {
    value = parseValue(number, "no_plain_number");
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return wrong(field, error.faults.map((one) => one.message).join(" "));
  }
  if (value.outcome !== undefined || value.low !== value.high) {
    return wrong(field, say("fault.not_plain", { text: typed }));
  }
  const found = ((value.low - zero) * times) / over + plus;
  if (!allows(field, found)) return { fault: field.refusal.replace("{typed}", () => typed) };
  return { value: found + 0 }; // -0 is 0
}

const YES_NO = new Map([["yes", true], ["no", false]]);

/** The number before a unit that the field is read in, and what brings it to the field's own. */
function withoutUnit({ units = {} }, typed) {
  const [, number, unit] = /^(.*\d)\s*([^\d\s]\S*)$/.exec(typed) ?? [];
  return Object.hasOwn(units, unit ?? "") ? [number, ...units[unit]] : [typed, 0, 1, 1, 0];
}

function wrong({ label }, fault) {
  return { fault: say("field.fault", { label, fault }) };
}

function allows({ least, above, greatest, below, whole }, number) {
  return (
    number >= (least ?? -Infinity) &&
    number > (above ?? -Infinity) &&
    number <= (greatest ?? Infinity) &&
    number < (below ?? Infinity) &&
    !(whole && number % 1 !== 0)
  );
}

// A typed number of a form: read by the one reader, refused in the words of its field.

import { InputError, parseValue } from "/offline/reader.js";
import { say } from "/offline/words/catalogue.js";

/**
 * Return {value} or {fault}, a sentence.
 *
 * *field* is as the server sends it (models/fields): label, least, above, greatest, below,
 * whole, and refusal, the sentence that refuses, in which {typed} stands for the text.
 */
export function readField(field, typed) {
  let value;
  try {
    value = parseValue(typed, "no_plain_number");
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return wrong(field, error.faults.map((one) => one.message).join(" "));
  }
  if (value.outcome !== undefined || value.low !== value.high) {
    return wrong(field, say("fault.not_plain", { text: typed }));
  }
  if (!allows(field, value.low)) return { fault: field.refusal.replace("{typed}", () => typed) };
  return { value: value.low + 0 }; // -0 is 0
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

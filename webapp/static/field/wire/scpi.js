// Questions and answers of SCPI. Sources: IEEE 488.2-1992 (response data <NR1>, <NR2>, <NR3>,
// suffixes, *IDN?) and SCPI-99 (volume 1: infinity 9.9E37, not a number 9.91E37; volume 2:
// SYSTem:ERRor?). Clauses are not quoted: what they say is from memory.

import { WireError } from "./lines.js";

export const WHO = "*IDN?";
export const ERRORS = "SYST:ERR?";
// FETCh? takes the value that stands; the others begin a measurement.
export const QUERIES = ["FETCh?", "READ?", "MEASure:RESistance?", "MEASure:FRESistance?", "MEASure:VOLTage:DC?", "MEASure:CURRent:DC?"];

const NUMBER = /^([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*([A-Za-z%][A-Za-z0-9/]*)?$/;
const QUERY = /^[*:A-Za-z][\w:*]*\?(?: [\x20-\x3a\x3c-\x7e]*)?$/; // no ";": one question alone
const LONGEST_QUERY = 80;
const NOT_A_NUMBER = 9.91e37;
const INFINITY = 9.9e37;
const BEYOND_ALL = 1e37; // no instrument shows as much

/** Why *text* is not asked, as a sentence; null where it may be. */
export function queryFault(text) {
  if (!text) return "Type the query that the instrument's manual gives.";
  if (text.length > LONGEST_QUERY) return `A query has at most ${LONGEST_QUERY} characters.`;
  if (!QUERY.test(text)) return "A query is one question, with a question mark after its name: this page only asks, it sets nothing.";
  return null;
}

/** Read an answer to a question for a value: {text, suffix}; throws where it is no value. */
export function readAnswer(answer) {
  if (answer.includes(",")) throw new WireError(`Several values came, “${answer}”: ask for one.`);
  const found = NUMBER.exec(answer);
  if (!found) throw new WireError(`“${answer}” is no number.`);
  const [, text, suffix = ""] = found;
  const size = Math.abs(Number(text));
  if (size === NOT_A_NUMBER) throw new WireError("The instrument has no value to give (9.91E37, not a number).");
  if (size === INFINITY) throw new WireError(rangeWords(text));
  if (!(size < BEYOND_ALL)) throw new WireError(`“${answer}” is beyond what any instrument shows.`);
  return { text, suffix };
}

function rangeWords(text) {
  return text.startsWith("-")
    ? "The instrument is under range (-9.9E37). Type the end of its range, and press Under range."
    : "The instrument is over range (9.9E37). Type the end of its range, and press Over range.";
}

/** Read the answer to *IDN?: {maker, type, serial, firmware}; serial is "" where it tells none. */
export function readWho(answer) {
  const fields = answer.split(",").map((field) => field.trim());
  if (fields.length !== 4) throw new WireError(`“${answer}” does not say what the instrument is: four parts were to come.`);
  const [maker, type, serial, firmware] = fields;
  return { maker, type, serial: serial === "0" ? "" : serial, firmware };
}

/** Read the answer to SYST:ERR?: the error as words, "" where there is none. */
export function readError(answer) {
  const found = /^([+-]?\d+)\s*(?:,\s*(.*))?$/.exec(answer);
  if (!found) throw new WireError(`“${answer}” is no answer to ${ERRORS}.`);
  const said = (found[2] ?? "").replace(/^"(.*)"$/, "$1").replaceAll('""', '"');
  return Number(found[1]) === 0 ? "" : `${Number(found[1])} ${said}`.trim();
}

/**
 * The reader of the sentences: models/words says what a catalogue is.
 *
 * `en.js` is models/words/en.json as the server gives it (webapp/offline_modules.py).
 */

import sentences from "./en.js";

const ONE = "1"; // the part that takes the form for one
const NO_PARTS = {};
const PART = /\{([a-z_]+)\}/; // what stands in a text for a part

// A judgement has a dozen sentences: each text is cut into its pieces once.
const cut = new Map();

/** The sentence of this id with its parts put in; throws where one is missing. */
export function say(id, parts = NO_PARTS) {
  return put(sentences, id, parts);
}

/** Whether the catalogue has a sentence of this id. */
export const has = (id) => Object.hasOwn(sentences, id);

/** A sentence of a catalogue with its parts, which are texts. */
export function put(catalogue, id, parts) {
  if (!Object.hasOwn(catalogue, id)) throw new Error(`the catalogue has no sentence '${id}'`);
  const entry = catalogue[id];
  const text = typeof entry === "string" ? entry : formOf(id, entry, parts);
  // Text and names in turns.
  let [sentence, ...rest] = piecesOf(text);
  for (let at = 0; at < rest.length; at += 2) sentence += part(id, parts, rest[at]) + rest[at + 1];
  return sentence;
}

function formOf(id, { by, one, other }, parts) {
  return part(id, parts, by) === ONE ? one : other;
}

function part(id, parts, name) {
  if (Object.hasOwn(parts, name)) return parts[name];
  throw new Error(`'${id}' wants the part '${name}'`);
}

function piecesOf(text) {
  if (!cut.has(text)) cut.set(text, text.split(PART));
  return cut.get(text);
}

/** Several texts as one: `list.or`, `list.and` or `list.comma` between them. */
export function join(id, texts) {
  return texts.reduce((first, second) => say(id, { first, second }));
}

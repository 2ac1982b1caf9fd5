/**
 * The reader of the sentences: models/words says what a catalogue is.
 *
 * `en.js` is models/words/en.json as the server gives it (webapp/offline_modules.py).
 */

import sentences from "./en.js";

const ONE = "1"; // the part that takes the form for one

/** The sentence of this id with its parts put in; throws where one is missing. */
export function say(id, parts = {}) {
  return put(sentences, id, parts);
}

/** Whether the catalogue has a sentence of this id. */
export const has = (id) => Object.hasOwn(sentences, id);

/** A sentence of a catalogue with its parts, which are texts. */
export function put(catalogue, id, parts) {
  if (!Object.hasOwn(catalogue, id)) throw new Error(`the catalogue has no sentence '${id}'`);
  const entry = catalogue[id];
  const part = (name) => {
    if (Object.hasOwn(parts, name)) return parts[name];
    throw new Error(`'${id}' wants the part '${name}'`);
  };
  const text = typeof entry === "string" ? entry : entry[part(entry.by) === ONE ? "one" : "other"];
  return text.replace(/\{([a-z_]+)\}/g, (_, name) => part(name));
}

/** Several texts as one: `list.or`, `list.and` or `list.comma` between them. */
export function join(id, texts) {
  return texts.reduce((first, second) => say(id, { first, second }));
}

// What is done to the apparatus in cells, and to their plates.

import { nextFree } from "./count_up.js";
import { apparatusOf, cellOf, every, newApparatus, tags, withApparatus, withCell } from "./draft.js";

// One thing's own: never copied to another.
const OWN = new Set(["serial"]);

/** The draft with an apparatus more in a cell; `added` is its key. */
export function addApparatus(draft, cellKey, kind, label) {
  const cell = cellOf(draft, cellKey);
  const wanted = label.replaceAll("{n}", cell.number);
  const taken = tags(draft);
  const key = `a${draft.next}`;
  const tag = taken.has(wanted) ? nextFree(wanted, taken) : wanted;
  const apparatus = [...cell.apparatus, newApparatus(key, kind, tag)];
  return { ...withCell(draft, cellKey, { apparatus }), next: draft.next + 1, added: key };
}

/** The draft without an apparatus. */
export function removeApparatus(draft, key) {
  const cells = draft.cells.map((cell) =>
    cell.apparatus.some((one) => one.key === key)
      ? { ...cell, apparatus: cell.apparatus.filter((one) => one.key !== key) }
      : cell,
  );
  return { ...draft, cells };
}

/** The draft with another tag on an apparatus. */
export function relabel(draft, key, label) {
  return withApparatus(draft, [key], (one) => ({ ...one, label }));
}

/** What holds plate fields, an apparatus or the lineup, with one of them as it was read. */
export function withField(holder, plateName, field, { value, text }) {
  const { [field]: _value, ...plate } = holder[plateName];
  const { [field]: _text, ...typed } = holder.typed;
  if (text !== undefined) typed[field] = text;
  else if (value !== null) plate[field] = value;
  return { ...holder, [plateName]: plate, typed };
}

/** The draft with a field of an apparatus's plate as it was read: {value} or {text}. */
export function setPlate(draft, key, field, read) {
  return withApparatus(draft, [key], (one) => withField(one, "plate", field, read));
}

/** The draft with a rating of the lineup as it was read: {value} or {text}. */
export function setRating(draft, field, read) {
  return withField(draft, "ratings", field, read);
}

/** The other apparatus of the same kind, those of the same type first. */
export function likeOf(draft, key) {
  const one = apparatusOf(draft, key);
  const like = every(draft).filter((other) => other.kind === one.kind && other.key !== key);
  const same = (other) => (other.plate.type ?? "") === (one.plate.type ?? "");
  return [...like.filter(same), ...like.filter((other) => !same(other))];
}

/**
 * The draft with what stands on one plate on those of *keys* too.
 *
 * Serial numbers are never copied; a field that is empty here leaves the other's as it is.
 */
export function copyPlate(draft, key, keys) {
  const { plate } = apparatusOf(draft, key);
  const shared = Object.fromEntries(Object.entries(plate).filter(([name]) => !OWN.has(name)));
  return withApparatus(draft, keys, (one) => ({
    ...one,
    plate: { ...one.plate, ...shared },
    typed: Object.fromEntries(Object.entries(one.typed).filter(([name]) => !(name in shared))),
  }));
}

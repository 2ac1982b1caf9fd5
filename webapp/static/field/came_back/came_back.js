// What the server did not take and no field can take back: kept on this tablet until
// somebody decides what becomes of it.

import { mayEdit } from "../findings.js";
import { standing } from "../preview.js";
import { tellLeft } from "../sending/tell_left.js";

/** Keep an entry that came back; false where it goes back to the field where it was typed. */
export function keepBack(store, entry, { status, faults }) {
  if (!isToDecide(store, entry, status)) return false;
  const why = faults.map(({ message }) => message).join(" ");
  store.keep.write(`back:${entry.key}`, { order: Date.now(), at: entry.at, entry, why });
  tellLeft(store);
  return true;
}

function isToDecide(store, entry, status) {
  return status === "conflict" || !store.cards.has(entry.card_id) || Boolean(readElsewhere(store, entry));
}

/** The reading that holds at the point of an entry, and is not the one that it measures again. */
export function readElsewhere(store, entry) {
  const card = entry.kind === "reading" && store.cards.get(entry.card_id);
  const held = card && standing(card).get(entry.point_id);
  return held && held.id !== entry.supersedes && held.id !== entry.key ? held : null;
}

/** All that came back on this round [{entry, why, at}], the oldest first. */
export function cameBack(store) {
  const found = [...store.keep.all("back:").values()].filter(Boolean);
  return found.sort((a, b) => a.order - b.order);
}

/** What came back at a point that somebody else has read: to be decided beside that reading. */
export function secondAt(store, card, point) {
  if (!mayEdit(store, card)) return null;
  return cameBack(store).find(({ entry }) => entry.card_id === card.id && entry.point_id === point.id && readElsewhere(store, entry)) ?? null;
}

/** What came back on a card and stands at none of its points. */
export function besidePoints(store, card) {
  const own = cameBack(store).filter(({ entry }) => entry.card_id === card.id);
  return own.filter(({ entry }) => !mayEdit(store, card) || !readElsewhere(store, entry));
}

/** Record it anew, at the time at which it was recorded first; *changed* are its other members. */
export function recordAgain(store, { entry }, changed = {}) {
  const { key, ...members } = entry;
  store.keep.drop(`back:${key}`);
  return store.record({ ...members, ...changed });
}

/** It is nowhere from now on: somebody has said so. */
export function dropBack(store, { entry }) {
  store.keep.drop(`back:${entry.key}`);
  store.changed();
  tellLeft(store);
}

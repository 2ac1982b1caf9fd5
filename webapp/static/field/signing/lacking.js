// What a card lacks before it can be signed.

import { standing } from "../preview.js";
import { openAfter } from "../safety_card/card_safety.js";

/** What is not there yet, in words, whether the server knows of the rest or not. */
export function lacking(store, card) {
  const held = standing(card);
  const unread = card.points.filter((point) => !held.has(point.id)).map((point) => point.label);
  const after = openAfter(store, card);
  return [
    unread.length && `no reading yet at ${unread.join(", ")}`,
    after.length > 0 && `after the test, still to confirm: ${after.join(", ")}`,
  ].filter(Boolean);
}

/** Return what still stands between a card and its signature, in words. */
export function missing(store, card) {
  const waiting = store.outbox.of(card.id).length;
  return [
    ...lacking(store, card),
    waiting && `${waiting === 1 ? "one entry is" : `${waiting} entries are`} still on this tablet`,
  ].filter(Boolean);
}

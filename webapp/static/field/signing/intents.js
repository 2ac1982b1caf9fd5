// Signatures that wait for signal. Each is what its signer means to sign, and no signature:
// nothing is printed as signed before the server has the signature itself.

import { deviceName } from "../kept/tablet.js";
import { digestOf } from "../sending/digest.js";
import { tellLeft } from "../sending/tell_left.js";
import { changedSince, inFront } from "./in_front.js";

/** What waits for a card {card, at, by, device, said, digest}; null where nothing does. */
export const intentOf = (store, cardId) => store.keep.read(`intent:${cardId}`);

/** All that wait in this round, the oldest first. */
export function intents(store) {
  const found = [...store.keep.all("intent:").values()].filter(Boolean);
  return found.sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
}

/** Keep that the person means to sign a card as it stands now. */
export async function intend(store, card) {
  const { id, name } = store.doc.person;
  const said = inFront(card);
  const intent = { card: card.id, at: store.clock.stamp(), by: { id, name }, device: deviceName(), said, digest: await digestOf(said) };
  store.keep.write(`intent:${card.id}`, intent);
  store.changed();
  tellLeft(store);
}

/** A signature that waited is not to be given. */
export function withdraw(store, cardId) {
  store.keep.drop(`intent:${cardId}`);
  store.changed();
  tellLeft(store);
}

/** What the log keeps of those that are given now, by card. */
export function intendedFor(store, cardIds) {
  const found = cardIds.map((id) => [id, intentOf(store, id)]).filter(([, intent]) => intent);
  return Object.fromEntries(found.map(([id, { at, digest, device }]) => [id, { at, device, ...(digest && { digest }) }]));
}

/** Those that were given wait no more, whichever tablet gave them. */
export function dropGiven(store) {
  const me = store.doc.person.id;
  const isGiven = ({ card }) => store.cards.get(card)?.performers?.some(({ id, signed }) => id === me && signed);
  const given = intents(store).filter(isGiven);
  for (const { card } of given) store.keep.drop(`intent:${card}`);
  if (given.length) tellLeft(store);
}

/** What has changed on a card since somebody meant to sign it, in words; [] where nothing has. */
export function changes(store, intent) {
  if (!store.cards.has(intent.card)) return ["it is in this round no more"];
  return changedSince(intent.said, store.card(intent.card));
}

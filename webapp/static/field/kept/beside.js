// What was heard after a round's document was fetched: single cards and acts of safety are
// kept beside it, since the document is large. The next document has them itself.

/** The cards of a document by id, those kept beside it in their place; *old*: see `staleNames`. */
export function cardsOf(document, keep, old = new Map()) {
  const cards = new Map(document.cards.map((card) => [card.id, card]));
  for (const [id, { rules, ...card }] of keep.all("card:")) {
    if (!cards.has(id) || old.get(id) === keep.read(`card:${id}`)) continue;
    Object.assign(document.rules, rules);
    cards.set(id, card);
  }
  return cards;
}

/** Keep a card as the server answered it. */
export function keepCard(keep, card) {
  keep.write(`card:${card.id}`, card);
}

/** Keep acts that were heard, and how far. */
export function keepHeard(keep, acts, cursor) {
  if (!acts.length) return;
  for (const act of acts) keep.write(`heard:${act.id}`, act);
  keep.write("cursor", Math.max(cursor, keep.read("cursor", 0)));
}

/** The acts kept beside the document, and how far was heard. */
export const heardBeside = (keep) => ({ acts: [...keep.all("heard:").values()], cursor: keep.read("cursor", 0) });

/**
 * What a document has itself, by name. *old*: `keep.all("card:")` from before it was asked
 * for; a card answered since then is newer.
 */
export function staleNames(document, keep, old) {
  const acts = new Set(document.safety?.acts.map(({ id }) => id));
  const cards = [...keep.all("card:")].filter(([id, card]) => old.get(id) === card).map(([id]) => `card:${id}`);
  return [...cards, ...[...keep.all("heard:").keys()].filter((id) => acts.has(id)).map((id) => `heard:${id}`)];
}

// The condition that chooses among a card's lists of safety lines.

import { conditionsNow } from "./conditions.js";

/** The supply or method that stands on a card now; undefined where nothing is chosen by it. */
export function chosenBy(store, cardId) {
  const { by } = store.safety.book.cards[cardId] ?? {};
  if (!by) return undefined;
  return conditionsNow(store, store.cards.get(cardId)).conditions[by];
}

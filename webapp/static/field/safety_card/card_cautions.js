// Cautions and statements that belong to a whole card: shown where the hand is, ticked by
// nobody.

import { chosenBy } from "../choice.js";
import { h } from "../dom.js";

/** The list of the card for the supply or method that is chosen. */
function listOf(store, card) {
  const { lists } = store.safety.book.cards[card.id];
  return lists[chosenBy(store, card.id)] ?? Object.values(lists)[0];
}

/** Draw the cautions of the card's kind of test; null where there is none. */
export function cardCautions(store, card) {
  const { cautions = [], shown = [] } = listOf(store, card);
  if (!cautions.length && !shown.length) return null;
  return h(
    "section",
    { class: "notice notice-care card-cautions", "aria-label": "Cautions" },
    cautions.map((key) => h("p", {}, store.safety.book.cautions[key] ?? "")),
    shown.map((words) => h("p", {}, words)),
  );
}

/** Draw what belongs to the fields of the readings; null where there is nothing. */
export function entryWords(store, card) {
  const { entry = [] } = listOf(store, card);
  if (!entry.length) return null;
  return h("div", { class: "notice notice-care card-cautions" }, entry.map((words) => h("p", { class: "strong" }, words)));
}

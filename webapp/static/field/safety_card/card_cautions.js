// Cautions and statements that belong to a whole card: shown at its head, ticked by nobody.

import { chosenBy } from "../choice.js";
import { h } from "../dom.js";

/** Draw the cautions of the card's kind of test; null where there is none. */
export function cardCautions(store, card) {
  const { lists } = store.safety.book.cards[card.id];
  const { cautions = [], shown = [] } = lists[chosenBy(store, card.id)] ?? Object.values(lists)[0];
  if (!cautions.length && !shown.length) return null;
  return h(
    "section",
    { class: "notice notice-care card-cautions", "aria-label": "Cautions" },
    cautions.map((key) => h("p", {}, store.safety.book.cautions[key] ?? "")),
    shown.map((words) => h("p", { class: "card-shown" }, words)),
  );
}

// What to go on with: the next card, and what comes after the last.

import { inSentence } from "/offline/reader.js";
import { h } from "./dom.js";
import { intentOf } from "./signing/intents.js";
import { missing } from "./signing/lacking.js";
import { CARD_STATES } from "./words.js";

/**
 * Return the card to go on with: one returned first, then one begun, then the next in the
 * round; what only waits for a signature comes last. *than*: the card one comes from.
 */
export function nextOf(store, than) {
  const cards = store.doc.cards.filter(({ id }) => id !== than?.id).map((card) => store.card(card.id));
  const order = ["returned", "begun", "not_begun"];
  const open = cards.filter(
    (card) =>
      order.includes(card.state) && (!card.assigned_to || card.assigned_to === store.me),
  );
  const ranks = new Map(open.map((card) => [card, rank(store, card)]));
  const after = (card) => (than && card.position < than.position ? 1 : 0);
  open.sort((a, b) => ranks.get(a) - ranks.get(b) || after(a) - after(b) || a.position - b.position);
  return open[0];
}

function rank(store, card) {
  if (intentOf(store, card.id) || !missing(store, card).length) return 3;
  if (card.state === "returned") return 0;
  return card.state === "begun" || begunHere(store, card) ? 1 : 2;
}

/** Whether work on a card began before its first reading: something typed, a line given. */
function begunHere(store, card) {
  const rows = Object.values(store.drafts[card.id]?.rows ?? {});
  if (rows.some(({ text }) => text?.trim())) return true;
  return Boolean(store.safety?.acts.some(({ scope, of }) => scope === "test" && of === card.id));
}

/** Offer the next card; once all are signed, what comes then; nothing to who only reads. */
export function nextCard(store) {
  if (!store.mayRecord) return null;
  const next = nextOf(store);
  if (!next) {
    return allSigned(store);
  }
  const cell = store.doc.cells.find((one) => one.id === next.cell_id);
  return h(
    "section",
    { class: "sheet next-card", "aria-label": "Next card" },
    h(
      "div",
      {},
      h("p", { class: "sheet-title" }, "Next card"),
      h("p", { class: "next-title" }, `Cell ${cell.number} · ${next.apparatus.label} · ${inSentence(next.title)}`),
      h("p", { class: "quiet" }, `${next.detail} · ${CARD_STATES[next.state]}`),
    ),
    h("a", { class: "button button-main", "data-focus": "next-card", href: `#/cards/${next.id}` }, "Open card"),
  );
}

/** What comes after the last card: the gate, and the signature on the package. */
function allSigned(store) {
  return h(
    "section",
    { class: "sheet next-card", "aria-label": "What comes next" },
    h(
      "div",
      {},
      h("p", { class: "next-title" }, "Every card is signed"),
      h(
        "p",
        { class: "quiet" },
        "The gate shows what is left; those who performed the tests then sign the package as well.",
      ),
    ),
    h(
      "p",
      { class: "actions" },
      h("a", { class: "button", href: store.urls.gate }, "Gate"),
      h("a", { class: "button button-main", "data-focus": "next-card", href: store.urls.package }, "Package"),
    ),
  );
}

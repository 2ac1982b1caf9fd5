// The bar that asks for one precondition after the other, under one thumb.

import { h } from "./dom.js";
import { codeInHand, openCodes } from "./preconditions.js";

// A second tap of the same touch is not a second statement.
const PAUSE_MS = 600;

/** Draw the bar for the list before the card opens, or for that after the test. */
export function confirmBar(store, card, ui, after) {
  const open = openCodes(store, card, after);
  const code = codeInHand(open, ui);
  return h(
    "div",
    { class: "bottom-bar confirm-bar", role: "group", "aria-label": "Next precondition" },
    h(
      "p",
      { class: "confirm-text", id: "confirm-text" },
      h("span", { class: "code" }, code),
      store.doc.preconditions[code].text,
    ),
    h(
      "div",
      { class: "actions" },
      h("button", { type: "button", class: "button", onclick: () => ask(store, ui, code) }, "Does not apply"),
      open.length > 1 &&
        h(
          "button",
          { type: "button", class: "button button-quiet", onclick: () => turnTo(store, ui, following(open, code)) },
          "Leave it open ›",
        ),
    ),
    h("span", { class: "quiet" }, `${open.length} to answer`),
    h(
      "button",
      {
        type: "button",
        class: "button button-main",
        "data-focus": "confirm-next",
        "aria-describedby": "confirm-text",
        onclick: () => confirm(store, card, ui, code, following(open, code)),
      },
      `Confirm ${code}`,
    ),
  );
}

function following(open, code) {
  return open[(open.indexOf(code) + 1) % open.length];
}

function confirm(store, card, ui, code, next) {
  if (Date.now() - (ui.confirmedAt ?? 0) < PAUSE_MS) return;
  ui.confirmedAt = Date.now();
  store.clearFaults(card.id, `code:${code}`);
  store.record({ kind: "confirm", card_id: card.id, code, state: "confirmed" });
  turnTo(store, ui, next);
}

/** Ask why the precondition does not apply, where it stands in the list. */
function ask(store, ui, code) {
  ui.inHand = code;
  ui.notApplicable = code;
  ui.focus = "reason-not";
  store.changed();
}

function turnTo(store, ui, code) {
  ui.inHand = code;
  ui.show = `item-${code}`;
  store.changed();
}

// A signature that waits for signal, at its card: offered, said, withdrawn.

import { h } from "../dom.js";
import { siteTime } from "../words.js";
import { changes, intend, withdraw } from "./intents.js";

/** The offer on a card that is complete while there is no signal. */
export function intentOffer(store, cards) {
  const keep = async () => {
    for (const card of cards) await intend(store, card);
  };
  return h(
    "div",
    { class: "stack-tight" },
    h("p", {}, "There is no signal, and signing needs the server, for it keeps your key. Say now that you sign as it stands: with signal your password is asked for once, for all that wait."),
    h(
      "button",
      { type: "button", class: "button button-main", "data-focus": "intend", onclick: keep },
      cards.length === 1 ? "Sign when there is signal" : `Sign ${cards.length} cards when there is signal`,
    ),
  );
}

/** What is said of a signature that waits; *cardNow* is the card as it stands, null where it is gone. */
export function intentNotice(store, intent, cardNow) {
  const changed = changes(store, intent);
  return h(
    "div",
    { class: `notice${changed.length ? " notice-care" : ""}`, role: "status" },
    h("p", { class: "strong" }, "Your signature waits. The card is not signed yet."),
    h("p", {}, `${intent.by.name} said so ${siteTime(intent.at, store.zone)} on ${intent.device}.`),
    changed.length > 0 && changedPart(changed),
    h(
      "div",
      { class: "actions" },
      changed.length > 0 && cardNow &&
        h("button", { type: "button", class: "button button-main", "data-focus": "intend", onclick: () => intend(store, cardNow) }, "Sign it as it stands now"),
      h("button", { type: "button", class: "button", "data-focus": `withdraw:${intent.card}`, onclick: () => withdraw(store, intent.card) }, "Withdraw"),
    ),
  );
}

function changedPart(changed) {
  return [
    h("p", {}, "The card has changed since. It is not signed before you have looked at it:"),
    h("ul", {}, changed.map((said) => h("li", {}, said))),
  ];
}

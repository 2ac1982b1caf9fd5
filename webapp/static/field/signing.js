// A card's signature as performed: given now, or said now and given when there is signal.

import { h } from "./dom.js";
import { intentNotice, intentOffer } from "./signing/intent_part.js";
import { intentOf } from "./signing/intents.js";
import { lacking, missing } from "./signing/lacking.js";
import { mineToSign, performers } from "./signing/performers.js";
import { signForm } from "./signing/sign_form.js";
import { mark, siteTime } from "./words.js";

/** Draw the signing part of one card. */
export function signingPanel(store, card, ui) {
  const intent = intentOf(store, card.id);
  if (card.state === "signed") return signedPanel(store, card);
  if (!store.mayRecord || card.state === "withdrawn") return intent && intentNotice(store, intent, null);
  return h(
    "section",
    { class: "sheet", id: "signing", "aria-label": "Sign as performed" },
    h("h2", {}, "Sign as performed"),
    signatures(store, card),
    intent && intentNotice(store, intent, isSignable(store, card) ? card : null),
    toBeDone(store, card, ui, intent),
  );
}

const isSignable = (store, card) => !lacking(store, card).length && mineToSign(store, card);

function toBeDone(store, card, ui, intent) {
  if (isSignable(store, card) && !store.hasSignal) return intent ? null : intentOffer(store, [card]);
  const open = missing(store, card);
  if (open.length) {
    return h(
      "div",
      {},
      h("p", {}, "Before this card can be signed:"),
      h("ul", {}, open.map((said) => h("li", {}, said))),
    );
  }
  if (mineToSign(store, card)) return signForm(store, ui, [card]);
  const waiting = performers(card).filter((one) => !one.signed).map((one) => one.name);
  return h(
    "p",
    {},
    `This card waits for the signature of ${waiting.join(" and ")}: whoever took readings signs for them.`,
  );
}

function signatures(store, card) {
  return card.signatures
    .filter((one) => one.holds)
    .map((one) => [
      h("p", {}, mark("done"), ` Signed as performed by ${one.by}, ${siteTime(one.at, store.zone)}.`),
      h("p", { class: "hash" }, `key ${one.key.slice(0, 47)} …`),
    ])
    .flat();
}

function signedPanel(store, card) {
  return h(
    "section",
    { class: "notice notice-done signed", "aria-label": "Signature" },
    signatures(store, card),
    h("p", { class: "small" }, "The lead can hand the card back if something has to be entered after all."),
  );
}

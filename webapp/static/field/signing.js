// Sign cards as performed: with the password, which goes to the server and nowhere else.

import { h } from "./dom.js";
import { standing } from "./preview.js";
import { openAfter } from "./safety_card/card_safety.js";
import { mark, siteTime } from "./words.js";

/** Return what still stands between a card and its signature, in words. */
export function missing(store, card) {
  const held = standing(card);
  const unread = card.points.filter((point) => !held.has(point.id)).map((point) => point.label);
  const after = openAfter(store, card);
  const waiting = store.outbox.of(card.id).length;
  return [
    unread.length && `no reading yet at ${unread.join(", ")}`,
    after.length > 0 && `after the test, still to confirm: ${after.join(", ")}`,
    waiting && `${waiting === 1 ? "one entry is" : `${waiting} entries are`} still on this tablet`,
  ].filter(Boolean);
}

/** Who took readings of *card*, each with what they say by signing. */
function performers(card) {
  return card.performers ?? []; // a round taken from an older server has none
}

/** Return whether this person is to sign *card*: they took readings and have not signed. */
export function mineToSign(store, card) {
  return performers(card).some((one) => one.id === store.doc.person.id && !one.signed);
}

/** Draw the signing part of one card. */
export function signingPanel(store, card, ui) {
  if (card.state === "signed") return signedPanel(store, card);
  if (!store.mayRecord || card.state === "withdrawn") return null;
  return h(
    "section",
    { class: "sheet", id: "signing", "aria-label": "Sign as performed" },
    h("h2", {}, "Sign as performed"),
    signatures(store, card),
    toBeDone(store, card, ui),
  );
}

function toBeDone(store, card, ui) {
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

/** What this person says by signing these cards, each sentence once. */
function statements(store, cards) {
  const own = cards.flatMap((card) =>
    performers(card).filter((one) => one.id === store.doc.person.id),
  );
  return [...new Set(own.map((one) => one.statement))];
}

/** Take the password out of its field: it was used, or it was not the right one. */
function putOut() {
  const field = document.getElementById("sign-password");
  if (field) field.value = "";
}

/** Draw the form that signs *cards* with one password. */
export function signForm(store, ui, cards) {
  const submit = async (event) => {
    event.preventDefault();
    const field = event.target.elements.password;
    ui.signFaults = [];
    if (!field.value) ui.signFaults.push("Type your password: it opens your key.");
    else {
      ui.signing = true;
      store.changed();
      try {
        await store.sign(cards.map((card) => card.id), field.value);
        ui.focus = "next-card";
      } catch (error) {
        ui.signFaults.push(
          error.state ? error.message : "No signal: signing needs the server, for it keeps your key.",
        );
      }
      ui.signing = false;
      putOut();
    }
    store.changed();
    document.getElementById("sign-password")?.focus();
  };
  const faults = ui.signFaults ?? [];
  return h(
    "form",
    { onsubmit: submit, class: "sign-form" },
    statements(store, cards).map((said) => h("p", {}, said)),
    h(
      "div",
      { class: `field${faults.length ? " field-faulty" : ""}` },
      h("label", { for: "sign-password" }, `Password of ${store.me}`),
      h("input", {
        id: "sign-password",
        name: "password",
        type: "password",
        autocomplete: "current-password",
        "data-focus": "sign-password",
        "aria-describedby": "sign-fault",
      }),
      h("span", { class: "fault", id: "sign-fault", role: "alert" }, faults.join(" ")),
    ),
    h(
      "button",
      { class: "button button-main", type: "submit", disabled: ui.signing },
      ui.signing ? "Signing …" : cards.length === 1 ? "Sign as performed" : `Sign ${cards.length} cards as performed`,
    ),
    ui.signing && h("progress", { "aria-label": "Signing" }),
  );
}

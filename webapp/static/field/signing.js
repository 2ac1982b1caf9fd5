// Sign cards as performed: with the password, which goes to the server and nowhere else.

import { h } from "./dom.js";
import { openCodes } from "./preconditions.js";
import { standing } from "./preview.js";
import { mark, siteTime } from "./words.js";

/** Return what still stands between a card and its signature, in words. */
export function missing(store, card) {
  const held = standing(card);
  const unread = card.points.filter((point) => !held.has(point.id)).map((point) => point.label);
  const before = openCodes(store, card, false);
  const after = openCodes(store, card, true);
  const waiting = store.outbox.of(card.id).length;
  return [
    unread.length && `no reading yet at ${unread.join(", ")}`,
    before.length && `preconditions still to confirm: ${before.join(", ")}`,
    after.length && `after the test, still to confirm: ${after.join(", ")}`,
    waiting && `${waiting === 1 ? "one entry is" : `${waiting} entries are`} still on this tablet`,
  ].filter(Boolean);
}

const STATEMENT =
  "I performed these tests as recorded here, with the instruments and under the conditions " +
  "stated, and the preconditions were confirmed before each.";

/** Draw the signing part of one card. */
export function signingPanel(store, card, ui) {
  if (card.state === "signed") return signedPanel(store, card);
  if (!store.mayRecord || card.state === "withdrawn") return null;
  const open = missing(store, card);
  return h(
    "section",
    { class: "sheet", id: "signing", "aria-label": "Sign as performed" },
    h("h2", {}, "Sign as performed"),
    open.length
      ? h(
          "div",
          {},
          h("p", {}, "Before this card can be signed:"),
          h("ul", {}, open.map((said) => h("li", {}, said))),
        )
      : signForm(store, ui, [card]),
  );
}

function signedPanel(store, card) {
  const signature = card.signatures.filter((one) => one.holds).at(-1);
  return h(
    "section",
    { class: "notice notice-done signed", "aria-label": "Signature" },
    h(
      "p",
      {},
      mark("done"),
      ` Signed as performed by ${signature.by}, ${siteTime(signature.at, store.zone)}.`,
    ),
    h("p", { class: "hash" }, `key ${signature.key.slice(0, 47)} …`),
    h("p", { class: "small" }, "The lead can hand the card back if something has to be entered after all."),
  );
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
    }
    store.changed();
    document.getElementById("sign-password")?.focus();
  };
  const faults = ui.signFaults ?? [];
  return h(
    "form",
    { onsubmit: submit, class: "sign-form" },
    h("p", {}, STATEMENT),
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

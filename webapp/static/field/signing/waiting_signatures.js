// All signatures of a round that wait for signal: one password gives them.

import { h } from "../dom.js";
import { capital, counted, siteTime } from "../words.js";
import { changes, intents, withdraw } from "./intents.js";
import { lacking } from "./lacking.js";
import { signForm } from "./sign_form.js";

/** The section; null where none waits. */
export function waitingSignatures(store, ui) {
  const waiting = intents(store);
  if (!waiting.length) return null;
  const ready = waiting.filter((one) => !against(store, one).length).map(({ card }) => store.card(card));
  return h(
    "section",
    { class: "sheet", "aria-labelledby": "waiting-signatures" },
    h("h2", { class: "sheet-title", id: "waiting-signatures" }, `${counted(waiting.length, "signature waits", "signatures wait")} for ${store.hasSignal ? "your password" : "signal"}`),
    h("ul", { class: "lines" }, waiting.map((one) => line(store, ui, one))),
    whatNow(store, ui, ready),
  );
}

/** What stands against giving a signature that waits, in words; [] where nothing does. */
function against(store, intent) {
  const card = store.cards.has(intent.card) ? store.card(intent.card) : null;
  if (!card) return changes(store, intent);
  if (!store.mayRecord) return [`the round is ${store.doc.round.state}: nothing more is signed in it`];
  if (card.state === "withdrawn") return [`the card is withdrawn: ${card.withdrawn.reason}`];
  const aside = store.outbox.aside.some(({ entry }) => entry.card_id === card.id);
  return [...lacking(store, card), ...changes(store, intent), aside && "an entry of it was set aside"].filter(Boolean);
}

function line(store, ui, intent) {
  const card = store.cards.get(intent.card);
  const words = card ? `${card.title} · ${card.apparatus.label}` : "A card";
  const faults = [...against(store, intent), ui.refused?.[intent.card]].filter(Boolean);
  const of = h("span", { class: "out-of-sight" }, ` ${words}`);
  return h(
    "li",
    { class: "waiting-line" },
    h(
      "div",
      {},
      h("p", { class: "strong" }, words),
      h("p", { class: "detail" }, `to be signed as it stood ${siteTime(intent.at, store.zone)} · ${intent.device}`),
      faults.length > 0 && h("p", { class: "fault" }, `Not signed: ${faults.join("; ")}.`),
    ),
    h(
      "p",
      { class: "actions" },
      card && h("a", { class: "button", href: `#/cards/${card.id}` }, faults.length ? "Look at it" : "Open card", of),
      h("button", { type: "button", class: "button", "data-focus": `withdraw:${intent.card}`, onclick: () => withdraw(store, intent.card) }, "Withdraw", of.cloneNode(true)),
    ),
  );
}

function whatNow(store, ui, ready) {
  const unsent = store.outbox.entries.length; // what was set aside holds up its own card
  if (!store.hasSignal) return h("p", { class: "quiet" }, "Nothing of it is signed yet. With signal your password is asked for here, once for all.");
  if (unsent) return h("p", { class: "quiet" }, `${capital(counted(unsent, "entry is", "entries are"))} sent first.`);
  if (!ready.length) return null;
  return signForm(store, ui, ready, (password) => signAll(store, ui, ready, password));
}

/**
 * Sign what is ready, in one call; where one of them cannot be signed, each by itself, and
 * that one says why. Throws where none of them was signed.
 */
async function signAll(store, ui, cards, password) {
  ui.refused = {};
  await store.refresh();
  const asBefore = cards.filter(({ id }) => !against(store, { ...store.keep.read(`intent:${id}`) }).length);
  if (!asBefore.length) return;
  const ids = asBefore.map(({ id }) => id);
  try {
    await store.sign(ids, password);
  } catch (error) {
    if (ids.length === 1 || !isOfACard(error)) throw error;
    for (const id of ids) await store.sign([id], password).catch((why) => keepRefusal(ui, id, why));
  }
}

/** Whether the server refused because of a card: the password was the right one. */
const isOfACard = ({ status, faults = [] }) => status === 409 || (status === 422 && faults.every(({ field }) => field !== "password"));

function keepRefusal(ui, id, why) {
  if (!why.state) throw why; // the signal is gone again
  ui.refused[id] = why.message.replace(/\.$/, "");
}

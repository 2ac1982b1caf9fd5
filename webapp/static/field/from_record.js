// The ways from a card to the pages that read an instrument's files: with signal only.

import { h } from "./dom.js";

const NEEDS_SIGNAL = "needs-signal";

/** The link of a card whose readings a record may tell; nothing on other cards. */
export function fromRecord(store, card) {
  const { waveform } = store.doc.procedures[card.procedure];
  if (!waveform) return null;
  const link = h("a", { class: `button ${NEEDS_SIGNAL}`, href: `/waveforms/cards/${card.id}` }, waveform === "curve" ? "Curve from a record" : "Times from a record");
  link.hidden = !hasSignal(store);
  return link;
}

/** The link of a card to the import of readings from a file. */
export function fromFile(store, card) {
  const link = h("a", { class: `button ${NEEDS_SIGNAL}`, href: `/readings-file/cards/${card.id}` }, "Readings from a file");
  link.hidden = !hasSignal(store);
  return link;
}

/** The link of a round to the import of a file for several of its cards. */
export function fileOfRound(store) {
  if (!store.mayRecord || store.doc.round.state !== "open") return null;
  const link = h("a", { class: `button ${NEEDS_SIGNAL}`, href: `/readings-file/rounds/${store.doc.round.id}` }, "Readings from a file");
  link.hidden = !hasSignal(store);
  return link;
}

function hasSignal(store) {
  return navigator.onLine !== false && store.outbox.state !== "no-signal";
}

for (const change of ["online", "offline"]) {
  window.addEventListener(change, () => {
    for (const link of document.querySelectorAll(`.${NEEDS_SIGNAL}`)) link.hidden = change === "offline";
  });
}

// An instrument on a wire: a choice of the tablet, off until it is made. What it takes is
// loaded only then.

import { saidUnit } from "/offline/reader.js";
import { h } from "./dom.js";
import { setting } from "./kept/settings.js";
import { siteTime } from "./words.js";

const NOT_HERE = "This part of the program is not on the tablet yet: open it once with signal.";

let key = null; // the module that draws the key, once it is loaded
let from = null; // the card that one was at last

/** Whether this browser can speak with an instrument on a wire (Web Serial). */
export const hasWire = () => "serial" in navigator;

const wireOn = () => hasWire() && setting("wire", false) === true;

/** The row with the key that reads; null where it is not chosen or nothing is read as a number. */
export function wireRow(points) {
  if (!wireOn() || !points.draft.takesNumbers()) return null;
  const row = h("div", { class: "wire-row" });
  if (key) key.drawRow(row, points);
  else loadKey(points.store, row);
  return row;
}

/** A row that is drawn later would lose the focus: the card is drawn again once it can be. */
async function loadKey(store, row) {
  try {
    key = await import("./wire/wire_key.js");
    store.changed();
  } catch {
    row.textContent = NOT_HERE;
  }
}

let page = null;

/** The page of the wire: one element, which draws itself anew. */
export function wirePage(store) {
  if (page?.store === store && page.from === from) return page.node;
  page = { store, from, node: h("div", { class: "stack" }, h("h1", { tabindex: -1 }, "Instrument on a wire"), h("p", { class: "quiet" }, "Opening …")) };
  import("./wire/wire_part.js").then(
    ({ WirePart }) => new WirePart(store, page.node, from),
    () => {
      page.node.append(h("p", { class: "fault", role: "alert" }, NOT_HERE));
      page = null;
    },
  );
  return page.node;
}

/** The choice, and the way to the page of the wire; or why there is none. */
export function wireChoice(card, choice) {
  from = card;
  if (!hasWire()) return h("p", { class: "quiet" }, "This browser cannot read an instrument on a wire (it has no Web Serial). Type what it shows.");
  return [choice, wireOn() && h("a", { class: "button", href: "#/wire", "data-focus": "wire-page" }, "Instrument on a wire ›")];
}

/** Where a typed value was read, while it stands as it came; "" otherwise. */
export function readWords(store, row) {
  const from = sourceOf(row);
  return from ? `read from the wire at ${clockOf(store, from.at)}, ${from.said}` : "";
}

const sourceOf = (row) => (row?.wire && row.wire.text === row.text && row.wire.unit === row.unit ? row.wire : null);

const clockOf = (store, at) => siteTime(at, store.zone).replace(" today", "");

/** The note that goes with a reading from the wire, as entries; none where it was typed. */
export function sourceNotes({ store, card, draft }, point) {
  const from = sourceOf(draft.of(point));
  if (!from) return [];
  const asked = `${from.query} answered ${from.answer}`;
  return [{ kind: "note", card_id: card.id, text: `${point.label}: ${from.text} ${saidUnit(from.unit)}, ${readWords(store, draft.of(point))} (${asked}).` }];
}

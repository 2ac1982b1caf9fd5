// What the server could not take in: set aside, shown, and tried again when somebody says so.

import { saidUnit } from "/offline/reader.js";
import { h } from "../dom.js";
import { siteTime } from "../words.js";

/** The entries of this round that were set aside; null where there are none. */
export function asidePart(store) {
  const aside = store?.outbox.aside ?? [];
  if (!aside.length) return null;
  return h(
    "section",
    { class: "sheet", "aria-labelledby": "aside" },
    h("h2", { class: "sheet-title", id: "aside" }, "Set aside"),
    h("p", {}, "The server could not take these in. Nothing of them is lost; all others went on."),
    h("ul", { class: "lines" }, aside.map((held) => line(store, held))),
  );
}

function line(store, { entry, why }) {
  const card = store.cards.get(entry.card_id);
  const point = card?.points.find(({ id }) => id === entry.point_id);
  const where = card ? `${card.title} · ${card.apparatus.label}${point ? ` · ${point.label}` : ""}` : "an act of safety";
  const again = () => store.outbox.tryAgain(entry.key);
  return h(
    "li",
    {},
    h("p", { class: "strong" }, `${where}: ${[entry.text ?? entry.act ?? entry.kind, saidUnit(entry.unit ?? "")].filter(Boolean).join(" ")}`),
    h("p", { class: "detail" }, `recorded ${siteTime(entry.at, store.zone)} · ${why}`),
    h("p", { class: "actions" }, h("button", { type: "button", class: "button", "data-focus": `again:${entry.key}`, onclick: again }, "Try again")),
  );
}

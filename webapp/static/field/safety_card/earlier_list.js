// What was confirmed under the earlier list of a round: to be read, never asked again.

import { h } from "../dom.js";
import { counted, mark, siteTime } from "../words.js";

/** One line that opens into wording, name and time of each; null where nothing was given. */
export function earlierList(store, card, ui) {
  if (!card.confirmed.length) return null;
  const last = card.confirmed.at(-1);
  const toggle = () => {
    ui.earlierShown = !ui.earlierShown;
    store.changed();
  };
  return h(
    "section",
    { class: "sheet earlier-list", "aria-label": "Confirmed under the earlier list" },
    h(
      "div",
      { class: "earlier-head" },
      h("p", {}, h("span", { class: "strong" }, "Earlier list"), ` · ${counted(card.confirmed.length, "confirmation")}, the last by ${last.by}, ${siteTime(last.at, store.zone)}`),
      h("button", { type: "button", class: "button", "data-focus": "earlier-list", "aria-expanded": String(Boolean(ui.earlierShown)), onclick: toggle }, ui.earlierShown ? "Close the list" : "Read it"),
    ),
    ui.earlierShown && h("ul", { class: "lines" }, card.confirmed.map((one) => item(store, one))),
  );
}

function item(store, { code, state, reason, by, at }) {
  const not = state === "not_applicable" ? `Does not apply: ${reason} · ` : "";
  return h(
    "li",
    { class: "safety-line safety-line-given" },
    mark("done"),
    h(
      "div",
      {},
      h("p", {}, h("span", { class: "code" }, code), store.doc.preconditions[code]?.text ?? ""),
      h("p", { class: "quiet small" }, `${not}${by}, ${siteTime(at, store.zone)}`),
    ),
  );
}

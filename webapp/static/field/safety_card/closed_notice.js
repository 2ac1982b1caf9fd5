// What closes a card for entry, in words, and the stop of work above all.

import { h } from "../dom.js";
import { reasonWords } from "../safety/words.js";
import { siteTime } from "../words.js";

// The head says a stop, the lines below what is open.
const SAID_ELSEWHERE = ["stopped", "test_open"];
const SAID_BY_ROWS = /^(crew|isolation|point)_/; // the lines of the wider scopes

/** What a stop in force means for the card; null while there is none. The bar above says it too. */
export function stopNotice(store) {
  const { stop } = store.safety.site();
  if (!stop) return null;
  return h(
    "div",
    { class: "notice notice-fault card-stopped" },
    h("p", { class: "strong" }, `Closed for entry by the stop of ${stop.by}, ${siteTime(stop.at, store.zone)}`),
    h("p", {}, "What was typed is kept. What makes it safe can always be recorded."),
  );
}

/** Why the card is closed, each reason a sentence; *begun*: it was open before. */
export function closedNotice(store, standing, begun) {
  const said = standing.reasons.filter(({ code }) => !SAID_ELSEWHERE.includes(code) && (begun || !SAID_BY_ROWS.test(code)));
  if (!said.length) return null;
  return h(
    "div",
    { class: "notice notice-care card-closed", role: "status", tabindex: -1, "data-focus": "card-closed" },
    h("p", { class: "strong" }, begun ? "Closed for entry. What was typed is kept." : "Not open yet"),
    said.map((reason) => [h("p", {}, reasonWords(store, reason)), waysOut(store, reason)]),
  );
}

/** The cards and cells that a reason names, to go there. */
function waysOut(store, { facts }) {
  const cards = [facts.cards ?? facts.card ?? []].flat().map((id) => store.cards.get(id));
  const cells = (facts.cells ?? []).map((id) => store.doc.cells.find((one) => one.id === id));
  const ways = [
    ...cards.filter(Boolean).map(({ id, title, apparatus }) => [`#/cards/${id}`, `${title}, ${apparatus.label}`]),
    ...cells.filter(Boolean).map(({ id, number }) => [`#/safety/point/${id}`, `Cell ${number}`]),
  ];
  if (!ways.length) return null;
  return h("p", { class: "actions" }, ways.map(([href, words]) => h("a", { class: "button", href }, words)));
}

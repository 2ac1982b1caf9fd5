// What closes a card for entry, in words, and the stop of work above all.

import { h } from "../dom.js";
import { reasonWords } from "../safety/words.js";
import { siteTime } from "../words.js";

// The head says a stop, the lines below what is open.
const SAID_ELSEWHERE = ["stopped", "test_open"];
const SAID_BY_ROWS = /^(crew|isolation|point)_/; // the lines of the wider scopes

/** A stop in force: who stopped the work, and when; null while there is none. */
export function stopNotice(store) {
  const { stop } = store.safety.site();
  if (!stop) return null;
  return h(
    "div",
    { class: "notice notice-fault card-stopped", role: "alert" },
    h("p", { class: "strong" }, `Work is stopped: ${stop.by}, ${siteTime(stop.at, store.zone)}`),
    h("p", {}, "No reading is taken until it is released. What makes it safe can always be recorded."),
    h("p", { class: "actions" }, h("a", { class: "button", href: "#/safety" }, "Safety page")),
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
    said.map((reason) => h("p", {}, reasonWords(store, reason))),
  );
}

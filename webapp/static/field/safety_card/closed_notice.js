// What closes a card for entry, in words, and the stop of work above all.

import { h } from "../dom.js";
import { reasonWords } from "../safety/words.js";
import { siteTime } from "../words.js";

const BY_LINES = ["test_open", "asked_again"]; // the lines below say it themselves

/** A stop in force: who stopped the work, and when; null while there is none. */
export function stopNotice(store) {
  const { stop } = store.safety.site();
  if (!stop) return null;
  return h(
    "div",
    { class: "notice notice-fault card-stopped", role: "alert" },
    h("p", { class: "strong" }, `Work is stopped: ${stop.by}, ${siteTime(stop.at, store.zone)}`),
    h("p", {}, "No reading is taken until it is released. The lines after the test can be given: make it safe. This switches nothing off and calls nobody."),
    h("p", { class: "actions" }, h("a", { class: "button", href: "#/safety" }, "Safety page")),
  );
}

/** Why the card is closed although it was begun, each reason a sentence. */
export function closedNotice(store, standing) {
  const said = standing.reasons.filter(({ code }) => code !== "stopped" && !isFirstAsk(code, standing));
  if (!said.length) return null;
  return h(
    "div",
    { class: "notice notice-care card-closed", role: "status" },
    h("p", { class: "strong" }, "Closed for entry. What was typed is kept."),
    said.map((reason) => h("p", {}, reasonWords(store, reason))),
  );
}

const isFirstAsk = (code, { test }) => BY_LINES.includes(code) && test.state !== "lapsed";

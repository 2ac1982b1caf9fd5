// What is on this tablet: the rounds that open here without signal, and what waits.

import { h, replace } from "../dom.js";
import { heldRounds } from "../kept/rounds.js";
import { labelHere, roundPage } from "./urls.js";
import { withoutWorkerWords } from "./worker.js";
import { placeInHeld } from "./held_label.js";

const NO_SIGNAL = "No signal: that page needs the server. What is on this tablet goes on working.";

/** Draw the page; a label that led here opens what it names, where it is held. */
export async function heldPage(root, person) {
  document.title = "On this tablet · Witnessmark";
  document.getElementById("where").textContent = "On this tablet";
  const label = labelHere();
  const place = label && (await placeInHeld(person, label));
  if (place) return location.replace(place);
  const rounds = person ? await heldRounds(person) : [];
  replace(
    root,
    h("h1", { tabindex: -1 }, "On this tablet"),
    noSignal(label) && h("div", { class: "notice notice-care", role: "status" }, h("p", {}, noSignal(label))),
    withoutWorkerWords() && h("div", { class: "notice" }, h("p", {}, withoutWorkerWords())),
    rounds.length ? h("section", { class: "sheet" }, h("ul", { class: "lines" }, rounds.map(line))) : empty(),
    h("p", { class: "actions" }, h("a", { class: "button", href: "/field/" }, "All rounds")),
  );
}

function noSignal(label) {
  if (label) return "This label is of no round on this tablet.";
  return location.hash === "#/no-signal" ? NO_SIGNAL : null;
}

function line({ round, label, taken_at: takenAt, fetched_at: fetchedAt }) {
  const words = `${label.site} · ${label.lineup} · ${label.title}`;
  const since = new Date(takenAt ?? fetchedAt).toLocaleString([], { dateStyle: "medium", timeStyle: "short" });
  return h(
    "li",
    {},
    h(
      "div",
      { class: "line line-held" },
      h("div", {}, h("p", { class: "strong" }, words), h("p", { class: "detail" }, `${takenAt ? "taken along" : "looked at"} ${since}`)),
      h("a", { class: "button button-main", href: roundPage(round) }, "Open", h("span", { class: "out-of-sight" }, ` ${words}`)),
    ),
  );
}

function empty() {
  return h(
    "div",
    { class: "sheet empty" },
    h("p", { class: "strong" }, "No round is on this tablet."),
    h("p", {}, "Open a round while there is signal: it stays here, and opens without."),
  );
}

// What lapsed and why: a short list in words, the latest first.

import { h } from "../dom.js";
import { lapseWord } from "../safety/words.js";
import { mark } from "../words.js";
import { cellsOf, cellWords, clock, listed, sectionWords } from "./names.js";
import { byScopes } from "./scopes.js";

const SHOWN = 5;

/** Draw the list of what is lapsed now. */
export function lapsesPart(store) {
  const found = lapses(store);
  if (!found.length) return null;
  return h(
    "section",
    { class: "notice notice-fault lapses", "aria-labelledby": "lapses-title" },
    h("h2", { id: "lapses-title" }, "What lapsed and why"),
    h("ul", { class: "plain" }, found.slice(0, SHOWN).map((one) => h("li", {}, mark("outside"), h("span", { class: "figures" }, clock(one.at, store.zone)), h("span", {}, h("a", { href: one.href }, one.name), one.said)))),
    found.length > SHOWN && h("p", { class: "small" }, `And ${found.length - SHOWN} earlier.`),
  );
}

/** The same as one text, for the place that a screen reader listens to. */
export function lapseWords(store) {
  return byScopes(store) ? lapses(store).map(({ name, said }) => `${name}${said}`).join(" ") : "";
}

function lapses(store) {
  const site = store.safety.site();
  const scopes = [
    ...site.crews.map((one) => ["Crew", "#/safety/crew", one]),
    ...site.isolations.map((one) => [`Clearance ${one.clearance} (${sectionWords(store.safety.book, one)})`, `#/safety/isolation/${one.of}`, one]),
    ...cellsHere(store).map(([cell, one]) => [cellWords(store.safety.book, [cell]).replace(/^c/, "C"), `#/safety/cells/${cell}`, one]),
  ];
  const lapsed = scopes.filter(([, , one]) => one.state === "lapsed" && one.at);
  lapsed.sort(([, , a], [, , b]) => Date.parse(b.at) - Date.parse(a.at));
  return lapsed.map(([name, href, one]) => ({
    at: one.at,
    name,
    href,
    said: `: ${lapseWord(store, one.cause, one.at)}${causeOf(store, one)}. ${againWords(one)}`,
  }));
}

/** The cells of this lineup that did not lapse by being left: that is the day's work. */
function cellsHere(store) {
  const own = new Set(cellsOf(store.safety.book, store.doc.lineup.id).map(({ id }) => id));
  return Object.entries(store.safety.site().points).filter(([cell, { cause }]) => own.has(cell) && cause !== "left");
}

/** What whoever recorded the change wrote. */
function causeOf(store, { of, at }) {
  const change = store.safety.acts.find((act) => act.act === "change" && act.of === of && Date.parse(act.at) === Date.parse(at));
  return change?.cause ? ` (${change.cause})` : "";
}

function againWords({ lines }) {
  const codes = lines.filter(({ state }) => state === "lapsed").map(({ code }) => code);
  const once = [...new Set(codes)];
  return once.length ? `Asked again: ${listed(once)}.` : "";
}

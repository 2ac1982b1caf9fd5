// Small parts that the safety page's sheets share: heads, states, facts, acts.

import { h } from "../dom.js";
import { lapseWord } from "../safety/words.js";
import { counted, mark } from "../words.js";
import { asked } from "./scopes.js";
import { clock } from "./names.js";

export const FAULTS = "safety-page"; // where faults of the page's own acts are kept

/** Keep an act, or say at the head of the page why it cannot be taken; whether it was. */
export function act(store, ui, members) {
  store.clearFaults(FAULTS);
  const faults = store.safety.record(members);
  for (const { message } of faults) store.addFault(FAULTS, members.act, message);
  if (faults.length) ui.focus = "safety-fault";
  store.changed();
  return !faults.length;
}

/** What could not be taken, in words. */
export function pageFaults(store) {
  const said = Object.values(store.faults[FAULTS] ?? {}).flat();
  if (!said.length) return null;
  return h(
    "div",
    { class: "notice notice-fault", role: "alert", tabindex: -1, "data-focus": "safety-fault" },
    said.map((one) => h("p", {}, one)),
  );
}

/** The head of one sheet on a page of its own. */
export function sheetHead(title, state, details, ...actions) {
  return h(
    "div",
    { class: "headline" },
    h(
      "div",
      {},
      h("h1", { tabindex: -1 }, title, state && [" ", state]),
      h("p", {}, details.filter(Boolean).join(" · ")),
    ),
    h("p", { class: "actions" }, actions),
  );
}

export function backLink() {
  return h("a", { class: "button", href: "#/safety" }, "‹ Safety of this round");
}

/** Whose rules govern: at the opening of each scope. */
export function govern(store) {
  const { governs, settings } = store.safety.book;
  if (!governs) return null;
  return h("p", { class: "disclaimer" }, governs, settings.rule_set_text && h("span", { class: "rule-set" }, ` ${settings.rule_set_text}`));
}

const STATES = {
  none: ["open", "not open"],
  filling: ["open", ""],
  stands: ["done", "stands"],
  lapsed: ["outside", "lapsed"],
  ended: ["unjudged", "ended"],
};

/** A scope's state: shape, word and time together. */
export function stateWord(store, scope, words) {
  const [shape, word] = STATES[scope.state];
  const at = scope.state === "stands" ? scope.since : scope.at;
  const since = at ? ` ${scope.state === "stands" ? "since " : ""}${clock(at, store.zone)}` : "";
  const why = scope.state === "lapsed" && scope.cause ? `: ${lapseWord(store, scope.cause, at)}` : "";
  const left = scope.state === "filling" ? `${counted(asked(scope.lines).length, "line")} open` : "";
  return h("span", { class: `scope-state scope-${scope.state}` }, mark(shape), words ?? `${word}${left}${since}${why}`);
}

export function factsOf(pairs) {
  return h("dl", { class: "facts" }, pairs.filter(([, value]) => value).flatMap(([name, value]) => [h("dt", {}, name), h("dd", {}, value)]));
}

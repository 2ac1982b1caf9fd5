// The lines that were given on a card, in one line that opens into wording, name and time.

import { h } from "../dom.js";
import { lineList } from "./line_list.js";

const TITLES = { test: "Before the first reading", after: "After the test" };

/** Draw the lines of *scope* given on the card, *open* for readings now; null where there is none. */
export function givenLines(store, card, ui, scope, open = false) {
  const lines = givenOf(store, card, scope);
  if (!lines.length) return null;
  const shown = `${scope}Shown`;
  const toggle = () => {
    ui[shown] = !ui[shown];
    store.changed();
  };
  return h(
    "section",
    { class: "sheet safety-list", "aria-label": TITLES[scope] },
    h(
      "div",
      { class: "earlier-head" },
      h("p", {}, h("span", { class: "strong" }, TITLES[scope]), ` · ${sumWords(lines, open)}`),
      h("button", { type: "button", class: "button", "data-focus": `given-${scope}`, "aria-expanded": String(Boolean(ui[shown])), onclick: toggle }, ui[shown] ? "Close the list" : "Read it"),
    ),
    ui[shown] && lineList(store, lines),
  );
}

function sumWords(lines, open) {
  const names = [...new Set(lines.map(({ by }) => by))].join(", ");
  const not = lines.filter(({ state }) => state !== "given").length;
  const head = open ? `${lines.length} of ${lines.length}, open for readings` : `${lines.length} given`;
  return `${head} · ${names}${not ? `, ${not} not applicable or set aside` : ""}`;
}

/** The latest act of each line, as a LineStanding. */
function givenOf(store, card, scope) {
  const latest = new Map();
  for (const act of store.safety.acts) {
    if (act.of === card.id && act.scope === scope && ["line", "override"].includes(act.act)) latest.set(act.code, act);
  }
  return [...latest.values()].filter(({ code }) => store.safety.book.lines[code]).map(lineOf);
}

const STATES = { confirmed: "given", not_applicable: "not_applicable" };

function lineOf({ act, code, state, reason, noted, by, person, at }) {
  return { code, state: act === "override" ? "overridden" : STATES[state], by: (person ?? by).name, at, noted: noted ?? {}, reason };
}

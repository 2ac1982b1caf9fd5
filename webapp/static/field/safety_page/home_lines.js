// What the elevation says of safety: one line for the round, one for the chosen cell.

import { h } from "../dom.js";
import { counted } from "../words.js";
import { cellState } from "./cells_strip.js";
import { cellOf, cellsOf } from "./names.js";
import { asked, byScopes, clearancesHere, crewHere, worksHere } from "./scopes.js";

/** The round's safety in one line, with the way to it; null where it has none. */
export function safetyLine(store) {
  if (!byScopes(store)) return null;
  const crew = crewHere(store);
  const here = clearancesHere(store).filter(({ lineup }) => lineup === store.doc.lineup.id);
  const { points } = store.safety.site();
  const inside = cellsOf(store.safety.book, store.doc.lineup.id).filter(({ id }) => points[id]?.state === "stands").length;
  const said = [crewWords(store, crew), ...(here.length ? here.map(clearanceWords) : ["no clearance"]), `${counted(inside, "cell")} stand`.replace("1 cell stand", "1 cell stands")];
  return h(
    "section",
    { class: "sheet safety-row", "aria-label": "Safety" },
    h("p", {}, h("strong", {}, "Safety"), ` · ${said.join(" · ")}`),
    h("a", { class: "button", href: "#/safety" }, "Safety of this round"),
  );
}

function crewWords(store, crew) {
  if (!crew) return "no crew is open";
  if (!worksHere(store, crew)) return `the crew does not work on ${store.doc.lineup.name} yet`;
  if (crew.state === "stands") return `crew, ${crew.in_charge} in charge`;
  return crew.state === "lapsed" ? "crew lapsed" : `crew: ${counted(asked(crew.lines).length, "line")} open`;
}

function clearanceWords({ clearance, state, lines }) {
  if (state === "stands") return `clearance ${clearance}`;
  return state === "lapsed" ? `clearance ${clearance} lapsed` : `clearance ${clearance}: ${counted(asked(lines).length, "line")} open`;
}

/** The chosen cell's state, with the way in. */
export function cellLine(store, cellId) {
  const cell = byScopes(store) && cellOf(store.safety.book, cellId);
  if (!cell) return null;
  const { kind, word, lines } = cellState(store, cell);
  const verb = { stands: "Cell", filling: "Go on in cell" }[kind] ?? "Enter cell";
  return h(
    "div",
    { class: `safety-row cell-state cell-${kind}` },
    h("p", {}, h("strong", {}, word), lines.length > 0 && ` · ${lines.filter(Boolean).join(" · ")}`),
    h("a", { class: "button", href: `#/safety/cells/${cellId}` }, kind === "stands" ? `Safety of cell ${cell.number}` : `${verb} ${cell.number}`),
  );
}

// The cells of the lineup side by side, each with what stands of it in words.

import { h } from "../dom.js";
import { mark } from "../words.js";
import { busWords, cellsOf, clock } from "./names.js";
import { asked, clearancesHere, crewHere } from "./scopes.js";

/** Draw the strip; a cell is the way to its page. *chosen*: the cell whose page it is. */
export function cellsStrip(store, chosen) {
  const cells = cellsOf(store.safety.book, store.doc.lineup.id);
  return h(
    "nav",
    { class: "cells-strip", "aria-label": `Cells of ${store.doc.lineup.name}`, tabindex: 0 },
    h("ul", {}, cells.map((cell) => h("li", {}, cellPlate(store, cell, chosen)))),
  );
}

function cellPlate(store, cell, chosen) {
  const said = cellState(store, cell);
  return h(
    "a",
    {
      class: `cell-plate cell-${said.kind}`,
      href: `#/safety/cells/${cell.id}`,
      "data-focus": `plate:${cell.id}`,
      "aria-current": cell.id === chosen ? "page" : null,
    },
    h("span", { class: "cell-number" }, h("span", { class: "out-of-sight" }, "Cell "), String(cell.number)),
    h("span", { class: "cell-bus" }, cell.bus ? busWords(cell.bus) : ""),
    h("span", { class: "cell-said" }, mark(said.shape), said.word),
    said.lines.map((line) => h("span", { class: "cell-line" }, line)),
  );
}

/** What stands of a cell: {kind, shape, word, lines}. */
export function cellState(store, cell) {
  const { points } = store.safety.site();
  const point = points[cell.id];
  if (handedBack(store, cell)) return { kind: "none", shape: "unjudged", word: "handed back", lines: [] };
  if (!point || point.state === "none") return { kind: "none", shape: "unjudged", word: "not entered", lines: [] };
  const holder = point.holder ?? "";
  const crew = crewHere(store);
  const other = crew && point.crew && point.crew !== crew.of ? ["another crew"] : [];
  if (point.state === "stands" && groundsOff(store, point).length) {
    return { kind: "lapsed", shape: "outside", word: "ground off", lines: ["counts as live", holder, ...other] };
  }
  if (point.state === "stands") {
    return { kind: "stands", shape: "done", word: deadWord(point), lines: [clock(point.since, store.zone), holder, ...other] };
  }
  if (point.state === "filling" && !point.inside) return { kind: "lapsed", shape: "outside", word: "left", lines: [holder] };
  if (point.state === "filling") {
    return { kind: "filling", shape: "open", word: `${asked(point.lines).length} lines open`, lines: [holder, ...other] };
  }
  const at = point.at ? clock(point.at, store.zone) : "";
  return { kind: "lapsed", shape: "outside", word: LEFT_WORDS[point.cause] ?? "lapsed", lines: [at, holder].filter(Boolean) };
}

/** The grounds that hold a cell and are off for a card. */
function groundsOff(store, { lines }) {
  const held = lines.find(({ code }) => code === "G13e")?.noted?.grounds ?? [];
  const grounds = store.safety.site().isolations.flatMap((one) => one.grounds);
  return grounds.filter(({ item, off_for: card }) => card && held.includes(item));
}

/** Why a cell is closed, short enough for its plate. */
const LEFT_WORDS = { left: "left", wider: "enter again", shift: "shift over", stop: "stopped" };

/** A cell whose primary is not worked on is entered, not proved dead. */
function deadWord(point) {
  return point.lines.some(({ code }) => code.startsWith("G10")) ? "proved dead" : "entered";
}

function handedBack(store, cell) {
  const own = store.safety.site().isolations.filter(({ lineup }) => lineup === store.doc.lineup.id);
  const held = clearancesHere(store).some((one) => one.lineup === store.doc.lineup.id && !one.returned_cells.includes(cell.id) && (one.section === null || one.section === cell.bus));
  return !held && own.some(({ returned_cells: back }) => back.includes(cell.id));
}

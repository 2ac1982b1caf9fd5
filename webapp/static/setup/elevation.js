// The lineup's front elevation, on which it is entered.

import {
  apart,
  busLine,
  cellLabel,
  cellSymbol,
  floorLine,
  LABEL,
  line,
  nameHolding,
  PAD,
  rect,
  SYMBOL,
  text,
  TOP,
} from "../elevation_parts.js";
import { s } from "../field/dom.js";
import { runs, sectionWords } from "./sections.js";

export const CELL = 104;
export const SIDE = 16;
const ADD = 96; // the place for another cell
const FLOOR = TOP + PAD + LABEL + PAD + SYMBOL + PAD;
const HEIGHT = FLOOR + 36;
const LARGEST = 1.25;
const NARROWEST = 330; // so that the caption fits
const LISTBOX = {
  role: "listbox",
  "aria-label": "Cells, from the left",
  "aria-orientation": "horizontal",
};
const CAPTION = "front view, not to scale";

/**
 * Return the drawing of *draft*: an option for each cell, and the place to add one.
 *
 * *chosen*: key of the chosen cell; *symbols* by kind of cell; *words* of each kind;
 * *faulty*: the keys of cells in which something is wrong. *drawn* keeps the cells that were
 * drawn before: those in which nothing is different are taken again.
 */
export function drawElevation(draft, { chosen, symbols, words, faulty, drawn: before = new Map() }) {
  const { cells } = draft;
  const end = SIDE + cells.length * CELL;
  const width = Math.max(end + ADD + 2 * SIDE, NARROWEST);
  const stop = chosen ?? cells[0]?.key; // of the Tab key
  const drawn = cells.map((cell, at) => {
    const look = {
      at,
      count: cells.length,
      chosen: cell.key === chosen,
      stop: cell.key === stop,
      symbol: symbols[cell.kind],
      faulty: faulty.has(cell.key),
    };
    return again(before, cell, look, () => drawCell(cell, look, words(cell.kind)));
  });
  // The heavy frame is drawn last, over its neighbours.
  const framed = cells.findIndex((cell) => cell.key === chosen);
  const drawing = s(
    "svg",
    { class: "drawing elevation", viewBox: `0 0 ${width} ${HEIGHT}`, width, height: HEIGHT },
    s("g", { "aria-hidden": "true" }, floorLine(FLOOR, width), buses(draft)),
    s("g", LISTBOX, drawn),
    framed >= 0 && frameOf(framed),
    addPlace(end + SIDE, cells.length),
    s("g", { "aria-hidden": "true" }, text(SIDE, FLOOR + 29, caption(draft), "label")),
  );
  drawing.style.minWidth = `${width}px`;
  drawing.style.maxWidth = `${width * LARGEST}px`;
  return drawing;
}

function caption({ cells }) {
  const held = cells.reduce((sum, cell) => sum + cell.apparatus.length, 0);
  const counted = `${cells.length} ${cells.length === 1 ? "cell" : "cells"}, ${held} apparatus`;
  return `${CAPTION} · ${counted}`;
}

function buses({ cells, sections }) {
  const words = new Map(sections.map((one) => [one.name, sectionWords(one)]));
  return [
    runs(cells).map(({ name, from, to }) =>
      busLine(SIDE + from * CELL, SIDE + to * CELL, fitted(words.get(name) ?? name, to - from)),
    ),
    cells.map((cell, at) => cell.tie_to && tieMark(at)),
  ];
}

function fitted(words, count) {
  const most = Math.floor((count * CELL) / 6.6);
  return words.length > most ? `${words.slice(0, most - 1)}…` : words;
}

/** A tie reaches over to the other section: a short line at the head of its cell. */
function tieMark(at) {
  const x = SIDE + (at + 0.5) * CELL;
  return line(x, TOP - 12, x, TOP, "dimension");
}

/** The node of a cell: the one before where the same is to be seen, else a new one. */
function again(before, cell, look, draw) {
  const found = before.get(cell.key);
  const same = found?.cell === cell && Object.keys(look).every((name) => found.look[name] === look[name]);
  if (same) return found.node;
  const node = draw();
  before.set(cell.key, { cell, look, node });
  return node;
}

function drawCell(cell, { at, count, chosen, stop, symbol, faulty }, words) {
  const x = SIDE + at * CELL;
  const drawn = [
    rect(x, TOP, CELL, FLOOR - TOP, chosen ? "cell-chosen" : "cell"),
    cellLabel(x, CELL, cell.number, cell.name),
    cellSymbol(x, CELL, symbol),
    faulty && faultMark(x + CELL - 18, TOP + 16),
  ];
  const name = spoken(cell, at, count, words, faulty);
  return s(
    "g",
    {
      role: "option",
      id: `cell-${cell.key}`,
      tabindex: stop ? 0 : -1,
      "aria-selected": String(chosen),
      "aria-label": nameHolding(drawn, name),
      "data-cell": cell.key,
      "data-focus": `cell:${cell.key}`,
    },
    apart(drawn),
  );
}

function spoken(cell, at, count, words, faulty) {
  const tags = cell.apparatus.map((one) => one.label).join(", ") || "nothing in it";
  const tie = cell.tie_to ? `, ties to ${cell.tie_to}` : "";
  const wrong = faulty ? ", something is wrong here" : "";
  return `Cell ${cell.number}, ${cell.name}, ${words}, ${at + 1} of ${count}, on ${cell.bus}${tie}: ${tags}${wrong}`;
}

function faultMark(x, y) {
  return s("path", { class: "d-outside-mark", d: `M${x} ${y - 6}l7 12h-14z` });
}

function frameOf(at) {
  return s("rect", {
    class: "d-cell-frame",
    x: SIDE + at * CELL,
    y: TOP,
    width: CELL,
    height: FLOOR - TOP,
    "aria-hidden": "true",
  });
}

function addPlace(x, count) {
  const middle = x + ADD / 2;
  const y = (TOP + FLOOR) / 2;
  return s(
    "g",
    {
      role: "button",
      tabindex: count ? -1 : 0,
      "aria-label": "+ add cell at the right end",
      "data-add": "end",
      "data-focus": "add",
      class: "add-place",
    },
    s("rect", { class: "d-add", x, y: TOP, width: ADD, height: FLOOR - TOP }),
    text(middle, y - 6, "+", "add-word", "middle"),
    text(middle, y + 16, "add cell", "add-word", "middle"),
  );
}

/** The place from the left that a horizontal place in the drawing belongs to. */
export function placeAt(x, count) {
  return Math.max(0, Math.min(count - 1, Math.floor((x - SIDE) / CELL)));
}

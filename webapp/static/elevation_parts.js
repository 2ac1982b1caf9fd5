// The parts of a front elevation that the tablet and the editor draw alike.

import { s } from "./field/dom.js";

export const TOP = 34; // room for the bus dimensions
export const PAD = 7; // from a cell's edge to its plates
export const LABEL = 68;
export const SYMBOL = 108;

const HATCH = 11;
const LONGEST_ROW = 15; // characters of a cell's name in a row
const NAME_ROWS = 3;

/** The floor at *y* with its hatching. */
export function floorLine(y, width) {
  const hatch = [];
  for (let n = 0; n < Math.trunc(width / HATCH); n += 1) {
    hatch.push(line(n * HATCH + 8, y + 1.5, n * HATCH + 1, y + 9.5, "hatch"));
  }
  return [hatch, line(2, y, width - 2, y, "floor")];
}

/** A dimension line from *x1* to *x2* over the cells of one bus section. */
export function busLine(x1, x2, words) {
  const y = TOP - 12;
  return [
    line(x1, y, x2, y, "dimension"),
    line(x1, y - 5, x1, y + 5, "dimension"),
    line(x2, y - 5, x2, y + 5, "dimension"),
    text((x1 + x2) / 2, y - 6, words, "label", "middle"),
  ];
}

/** The label plate of a cell of this *width* at *x*. */
export function cellLabel(x, width, number, name) {
  return [
    rect(x + PAD, TOP + PAD, width - 2 * PAD, LABEL, "plate"),
    text(x + width / 2, TOP + PAD + 17, number, "number", "middle"),
    wrapped(name).map((row, n) =>
      text(x + width / 2, TOP + PAD + 33 + 14 * n, row, "name", "middle"),
    ),
  ];
}

/** The one-line symbol of a cell of this *width* at *x*, in its frame. */
export function cellSymbol(x, width, found) {
  const y = TOP + PAD + LABEL + PAD;
  const left = found && x + (width - found.box[0]) / 2;
  return [
    rect(x + PAD, y, width - 2 * PAD, SYMBOL, "plate"),
    found && s("g", { transform: `translate(${left} ${y + 9})` }, strokes(found)),
  ];
}

/** The strokes of a symbol, as webapp/drawing/symbols.py gives them. */
export function strokes({ paths, solid = [] }) {
  return [
    paths.map((d) => s("path", { class: "d-symbol", d })),
    solid.map((d) => s("path", { class: "d-symbol-solid", d })),
  ];
}

function wrapped(name) {
  const rows = [""];
  for (const word of name.split(" ")) {
    const last = rows.at(-1);
    if (last && `${last} ${word}`.length > LONGEST_ROW) rows.push(word);
    else rows[rows.length - 1] = last ? `${last} ${word}` : word;
  }
  const shown = rows.slice(0, NAME_ROWS).map(cut);
  if (rows.length > NAME_ROWS) shown[2] = `${shown[2].slice(0, 13)}…`;
  return shown;
}

function cut(row) {
  return row.length > LONGEST_ROW + 1 ? `${row.slice(0, LONGEST_ROW)}…` : row;
}

export function rect(x, y, width, height, style) {
  return s("rect", { class: `d-${style}`, x, y, width, height });
}

export function line(x1, y1, x2, y2, style) {
  return s("line", { class: `d-${style}`, x1, y1, x2, y2 });
}

/**
 * Return a link's or an option's name that holds the words seen on *drawn*.
 *
 * Who speaks to the machine says what they see (WCAG 2.1, 2.5.3): words that were
 * cut for want of room go before *name*.
 */
export function nameHolding(drawn, name) {
  const texts = drawn.flat(Infinity).filter((one) => one?.tagName === "text");
  const seen = texts.map((one) => one.textContent).join(" ");
  return spoken(name).includes(spoken(seen)) ? name : `${seen} (${name})`;
}

function spoken(words) {
  return (words.toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? []).join(" ");
}

/** Return what is drawn with a space after each part: it keeps words apart. */
export function apart(drawn) {
  return drawn.flat(Infinity).filter(Boolean).flatMap((one) => [one, " "]);
}

export function text(x, y, said, style, anchor = "start") {
  return s("text", { class: `d-${style}`, x, y, "text-anchor": anchor }, said);
}

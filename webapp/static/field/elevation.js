// The front elevation: the way into a round, drawn from its cells.

import {
  apart,
  busLine,
  cellLabel,
  cellSymbol,
  floorLine,
  LABEL,
  nameHolding,
  PAD,
  rect,
  SYMBOL,
  text,
  TOP,
} from "../elevation_parts.js";
import { s } from "./dom.js";
import { VERDICTS } from "./words.js";

const CELL = 112;
const SIDE = 20;
const PLATE_HEAD = 34;
const FINDING = 17;
const LARGEST = 1.3;
const CHARACTER = 6.6; // width of a letter in a label, on the safe side

/** Return the drawing; *plates*: cell id -> {text, share, findings: [[word, n]]}. */
export function elevation(doc, plates, chosen, hrefOf) {
  const most = Math.max(1, ...doc.cells.map((cell) => plates.get(cell.id).findings.length));
  const plate = PLATE_HEAD + FINDING * most;
  const floor = TOP + PAD + LABEL + PAD + SYMBOL + PAD + plate + PAD;
  const width = doc.cells.length * CELL + 2 * SIDE;
  const caption = captionRows(doc.lineup.ratings, width - 2 * SIDE);
  const height = floor + 23 + 15 * caption.length;
  const order = doc.cells.map((cell, at) => [cell, at]);
  order.sort((a, b) => (a[0].id === chosen) - (b[0].id === chosen));
  const drawing = s(
    "svg",
    {
      class: "drawing elevation",
      viewBox: `0 0 ${width} ${height}`,
      width,
      height,
      role: "group",
      "aria-label": `Front elevation of ${doc.lineup.name}, ${doc.cells.length} cells`,
    },
    floorLine(floor, width),
    buses(doc.cells),
    order.map(([cell, at]) =>
      drawCell(doc, cell, at, plates.get(cell.id), { floor, plate, chosen, hrefOf }),
    ),
    caption.map((row, n) => text(SIDE, floor + 29 + 15 * n, row, "label")),
  );
  // As large as the sheet allows, never smaller than can be read: then it scrolls.
  drawing.style.minWidth = `${width}px`;
  drawing.style.maxWidth = `${width * LARGEST}px`;
  return drawing;
}

/** The ratings under the floor, in as many rows as they need. */
function captionRows(ratings, width) {
  const rows = [];
  for (const part of [...ratings.split(" · "), "front view, not to scale"]) {
    const longer = rows.length ? `${rows.at(-1)} · ${part}` : part;
    if (rows.length && longer.length * CHARACTER <= width) rows[rows.length - 1] = longer;
    else rows.push(part);
  }
  return rows;
}

function buses(cells) {
  const runs = [];
  cells.forEach((cell, at) => {
    const last = runs.at(-1);
    if (last && last.bus === cell.bus) last.to = at + 1;
    else runs.push({ bus: cell.bus, from: at, to: at + 1 });
  });
  return runs
    .filter((run) => run.bus)
    .map((run) => busLine(SIDE + run.from * CELL, SIDE + run.to * CELL, run.bus));
}

function drawCell(doc, cell, at, plate, { floor, plate: plateHeight, chosen, hrefOf }) {
  const x = SIDE + at * CELL;
  const inner = CELL - 2 * PAD;
  const plateY = TOP + PAD + LABEL + PAD + SYMBOL + PAD;
  const is = cell.id === chosen;
  const drawn = [
    rect(x, TOP, CELL, floor - TOP, is ? "cell-chosen" : "cell"),
    cellLabel(x, CELL, cell.number, cell.name),
    cellSymbol(x, CELL, doc.symbols[cell.kind] ?? doc.symbols.unknown),
    rect(x + PAD, plateY, inner, plateHeight, "plate"),
    drawPlate(plate, x + PAD + 6, plateY, inner - 12),
  ];
  return s(
    "a",
    {
      href: hrefOf(cell),
      "data-focus": `cell:${cell.id}`,
      "aria-label": nameHolding(drawn, words(cell, plate)),
      "aria-current": is ? "true" : null,
    },
    apart(drawn),
  );
}

function drawPlate(plate, x, y, width) {
  return [
    text(x, y + 15, plate.text, "label-strong"),
    rect(x, y + 21, width, 8, "track"),
    plate.share > 0 &&
      rect(x, y + 21, width * plate.share, 8, plate.share === 1 ? "bar-done" : "bar"),
    plate.findings.map(([word, count], n) => {
      const lineY = y + PLATE_HEAD + FINDING * n + 11;
      return [
        verdictMark(word, x + 5, lineY - 4),
        text(x + 15, lineY, `${count} ${word}`, `${word}-word`),
      ];
    }),
  ];
}

function verdictMark(word, x, y) {
  const r = 4.6;
  if (word === "outside") {
    const points = `${x},${y - r} ${x + r},${y + r * 0.8} ${x - r},${y + r * 0.8}`;
    return s("polygon", { class: "d-outside-mark", points });
  }
  if (word === "marginal") {
    return [
      s("circle", { class: "d-ring", cx: x, cy: y, r }),
      s("path", { class: "d-marginal-mark", d: `M${x} ${y - r}a${r} ${r} 0 0 1 0 ${2 * r}z` }),
    ];
  }
  return s("circle", { class: `d-${word}-mark`, cx: x, cy: y, r: word === "unjudged" ? r - 0.6 : r });
}

function words(cell, plate) {
  const found = plate.findings.map(([word, count]) => `, ${count} ${word}`).join("");
  return `Cell ${cell.number}, ${cell.name}: ${plate.text}${found}`;
}

/** Return what a cell's plate says of its cards. */
export function plateOf(cards) {
  const working = cards.filter((card) => card.state !== "withdrawn");
  const signed = working.filter((card) => card.state === "signed").length;
  const begun = working.some((card) => card.state !== "not_begun");
  const counts = new Map();
  for (const card of working) {
    for (const reading of card.readings) {
      if (reading.superseded_by || reading.judgement.verdict === "within") continue;
      const word = reading.judgement.verdict;
      counts.set(word, (counts.get(word) ?? 0) + 1);
    }
  }
  return {
    text: plateWords(cards.length, working.length, signed, begun),
    share: working.length ? signed / cards.length : 0,
    findings: VERDICTS.filter((word) => counts.has(word)).map((word) => [word, counts.get(word)]),
  };
}

// A withdrawn card was not tested: with one among them a cell is never all signed.
function plateWords(cards, working, signed, begun) {
  if (!cards) return "no cards";
  if (!working) return "withdrawn";
  if (signed === cards) return "all signed";
  if (!begun) return "not begun";
  return cards > 9 ? `${signed}/${cards} signed` : `${signed} of ${cards} signed`;
}

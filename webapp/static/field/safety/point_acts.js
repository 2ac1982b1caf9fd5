// What acts about a cell change.

import { ofPoint } from "./asked.js";
import { cellIsLeft, settlePoint } from "./lapses.js";
import { speaker, speakerKey } from "./people.js";
import { Point } from "./state.js";
import { milliseconds } from "./times.js";

// Changes of a cell that move the path through which it lends its ground to another.
const LENDER_WORDS = ["ground", "moved", "switch", "breaker", "block"];

/** Enter a cell: its holder leaves the others, but those where somebody stays. */
export function enter(state, act) {
  const { cell, crew } = act;
  const isolation = act.isolation ?? null;
  const at = milliseconds(act.at);
  const key = speakerKey(act);
  const { name } = speaker(act);
  for (const point of [...state.points.values()]) {
    const other = point.cell !== cell && point.holderKey === key && point.inside;
    if (other && !(point.cell in (act.stays ?? {}))) cellIsLeft(state, point.cell, at, "left");
  }
  if (!state.points.has(cell)) state.points.set(cell, new Point(cell));
  const point = state.points.get(cell);
  if (point.inside && point.holderKey !== key) cellIsLeft(state, cell, at, "left");
  if (point.isolation !== isolation) restOnAnother(state, cell, isolation);
  Object.assign(point, { holder: name, holderKey: key, crew, isolation, entered: at, inside: true });
  state.worked.set(cell, at);
  settlePoint(state, point, at, name, "wider");
}

/** Ask the lines of a cell anew that were given before this clearance was taken. */
function restOnAnother(state, cell, isolation) {
  const found = state.isolations.get(isolation);
  if (found) state.lines.lapseAll("point", cell, "wider", found.opened);
}

/** Leave a cell. */
export function leave(state, act) {
  cellIsLeft(state, act.cell, milliseconds(act.at), "left");
}

/** Take a line of a cell. */
export function lineOfPoint(state, act) {
  const point = state.points.get(act.of);
  if (point) settlePoint(state, point, milliseconds(act.at), speaker(act).name, "wider");
}

/** Take a change at a cell; who borrows its ground is touched too. */
export function cellChanges(state, cell, word, at, item) {
  state.lines.lapse("point", cell, word, at, item);
  if (LENDER_WORDS.includes(word)) {
    for (const borrower of borrowers(state, cell)) {
      groundLapses(state, borrower, "ground", at);
      groundLapses(state, cell, "ground", at);
    }
  }
  const point = state.points.get(cell);
  if (point) settlePoint(state, point, at, "", word);
}

/** Lapse that a primary is grounded wherever this ground does it. */
export function groundMoves(state, ground, at) {
  for (const cell of [...state.points.keys()]) {
    if (ground === null || groundsOf(state, cell).includes(ground)) groundLapses(state, cell, "ground", at);
  }
}

/** The grounds that hold the primary of a cell, as it was last noted. */
export function groundsOf(state, cell) {
  const grounds = state.lines.find("point", cell, "G13e")?.noted.grounds;
  return Array.isArray(grounds) ? grounds : [];
}

function borrowers(state, lender) {
  const cells = [...state.points.keys()];
  return cells.filter((cell) => state.lines.find("point", cell, "G13e")?.noted.lender === lender);
}

function groundLapses(state, cell, word, at) {
  state.lines.find("point", cell, "G13e")?.lapse(word, at);
  const point = state.points.get(cell);
  if (point && ofPoint(state, cell).includes("G13e")) settlePoint(state, point, at, "", word);
}

// Whether a clearance, or a part of it, may be handed back.

import { afterOpen } from "./after_lines.js";
import { cellsToReturn } from "./asked.js";
import { fault, isBlank, isolationFaults } from "./fault.js";
import { speakerKey } from "./people.js";
import { returnLines } from "./return_standing.js";

/** The open lines of the return, and the cards that are not made safe. */
export function checkHandBack(state, act) {
  const isolation = state.isolations.get(act.isolation);
  const wrong = isolationFaults(isolation);
  if (wrong.length) return wrong;
  if (isolation.returningSince === null || !isSamePart(isolation.returningCells, act.cells ?? null)) {
    return [fault("scope", "return_none")];
  }
  const to = isBlank(act.to) ? [fault("to", "returned_to_missing")] : [];
  return [...to, ...checkHolder(state, isolation, act), ...checkOpen(state, isolation)];
}

const isSamePart = (one, other) => JSON.stringify(one) === JSON.stringify(other);

function checkHolder(state, isolation, act) {
  const held = state.lines.find("isolation", isolation.id, "G04a");
  if (held === null || held.byKey === speakerKey(act)) return [];
  return [fault("scope", "not_holder", { by: held.by })];
}

function checkOpen(state, isolation) {
  const found = [];
  const cards = openCards(state, isolation);
  if (cards.length) found.push(fault("scope", "cards_open", { cards }));
  const codes = returnLines(state, isolation).filter(isOpen).map(({ code }) => code);
  if (codes.length) found.push(fault("scope", "return_open", { open: codes.length, codes }));
  return found;
}

const isOpen = ({ state }) => ["open", "lapsed"].includes(state);

/** The cards of the part whose lines of *after* are not complete. */
export function openCards(state, isolation) {
  const cards = cellsToReturn(state, isolation).flatMap((cell) => state.places.cards(cell));
  return cards.filter((card) => afterOpen(state, card).length);
}

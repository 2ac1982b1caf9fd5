// Whether all lines that a scope needs count.

import { inCharge, ofPoint, secondPerson, sharedOfCrew, sharedOfIsolation } from "./asked.js";

/** Whether the shared lines count, and two people's own lines. */
export function crewComplete(state, crew) {
  if (crew.ended !== null) return false;
  const shared = sharedOfCrew(state, crew);
  if (!shared.every(({ code, item }) => state.lines.counts("crew", crew.id, code, item))) return false;
  return neededPeople(state, crew).every((key) => signedOnToCrew(state, crew, key));
}

/**
 * Whom a crew cannot do without; null for one who is not named.
 *
 * The second person is another than the one in charge.
 */
export function neededPeople(state, crew) {
  const charge = inCharge(state, crew);
  if (!state.book.crew.includes("G02a")) return [charge];
  const second = state.lines.find("crew", crew.id, "G02a");
  if (second !== null && second.state !== "given") return [charge];
  const key = secondPerson(state, crew);
  return [charge, key === charge ? null : key];
}

/** Whether a person's own lines all count. */
export function signedOnToCrew(state, crew, key) {
  if (!crew.people.has(key)) return false;
  return state.ownOfCrew.every((code) => state.lines.counts("crew", crew.id, code, null, key));
}

/** Whether all lines of a clearance count, item by item. */
export function isolationComplete(state, isolation) {
  if (isolation.ended !== null) return false;
  const shared = sharedOfIsolation(state, isolation);
  return shared.every(({ code, item }) => state.lines.counts("isolation", isolation.id, code, item));
}

/** Whether a cell is entered and all its lines count. */
export function pointComplete(state, point) {
  return point.inside && ofPoint(state, point.cell).every((code) => state.lines.counts("point", point.cell, code));
}

// Which lines a scope asks for, item by item, as the registers now stand.

import { personNoted } from "./given.js";

/** A place for one line: its code, and its item or person. */
const asked = (code, item = null, person = null) => ({ code, item, person });

/** The lines that one of the crew gives for all. */
export function sharedOfCrew(state, crew) {
  const codes = state.book.crew.filter((code) => !eachOf(state, code).includes("person"));
  return codes.flatMap((code) => forItems(state, crew.id, code, crew.lineups));
}

/** The lines of a clearance but those that each person gives. */
export function sharedOfIsolation(state, isolation) {
  const codes = state.book.isolation.filter(
    (code) => !eachOf(state, code).includes("person") && askedNow(state, isolation.id, state.book.lines[code].when),
  );
  return codes.flatMap((code) => forItems(state, isolation.id, code, [isolation.lineup]));
}

/** The codes of a cell. */
export function ofPoint(state, cell) {
  const codes = state.book.point[cell] ?? [];
  const of = state.points.get(cell)?.isolation ?? null;
  if (!state.isolations.has(of)) return codes;
  return codes.filter((code) => askedNow(state, of, state.book.lines[code].when, cell));
}

/** The codes of a card, *part* before or after, for its supply or method. */
export function ofCard(state, card, choice, part) {
  const { lists } = state.lists(card);
  const name = Object.hasOwn(lists, choice ?? "") && choice !== null && choice !== undefined ? choice : chosen(state, card);
  return lists[name]?.[part] ?? [];
}

/** The choice of the latest reading, or the first that the card has. */
export function chosen(state, card) {
  const { lists } = state.lists(card);
  const last = state.card(card).choice;
  return last !== null && Object.hasOwn(lists, last) ? last : (Object.keys(lists)[0] ?? null);
}

/** The lines of a return of the whole, or of the part that is returned. */
export function ofReturn(state, isolation) {
  const cells = cellsToReturn(state, isolation);
  const people = signedOn(state, isolation).map(({ byKey }) => byKey);
  return state.book.returning.flatMap((code) => {
    const { each, when } = state.book.lines[code];
    // The clearance itself is released with the whole only.
    if (code === "P09a" && isolation.returningCells !== null) return [];
    if (!askedNow(state, isolation.id, when)) return [];
    if (each.includes("cell")) {
      return cells.filter((cell) => givenIn(state, isolation, when, cell)).map((cell) => asked(code, cell));
    }
    if (each.includes("person")) return people.map((person) => asked(code, null, person));
    return [asked(code)];
  });
}

/** The cells of the part, or all that were entered under the clearance. */
export function cellsToReturn(state, isolation) {
  if (isolation.returningCells !== null) return isolation.returningCells;
  const entered = [...state.points].filter(([, point]) => point.isolation === isolation.id);
  return entered.map(([cell]) => cell).filter((cell) => !isolation.returned.includes(cell));
}

/** Who signed on to a clearance, once each. */
export function signedOn(state, isolation) {
  const [code] = state.ownOfIsolation;
  return code === undefined ? [] : state.lines.people("isolation", isolation.id, code);
}

/** The key of who is in charge of a shift. */
export const inCharge = (state, crew) => state.lines.find("crew", crew.id, "G01a")?.byKey ?? null;

/** The key of the second qualified person who is named. */
export const secondPerson = (state, crew) => personNoted(state.lines.find("crew", crew.id, "G02a"), "person");

const eachOf = (state, code) => state.book.lines[code].each;

/** A line once, or for each lineup or item that it is asked for. */
function forItems(state, of, code, lineups) {
  const { each, when } = state.book.lines[code];
  if (!each.length) return [asked(code)];
  return each.flatMap((kind) => {
    if (kind === "lineup") return lineups.map((lineup) => asked(code, lineup));
    const items = state.register(kind, of).filter((item) => fits(when.item ?? {}, item));
    return items.map(({ item }) => asked(code, item));
  });
}

/** Whether an item may be of the kind wanted; a field it lacks is doubt. */
export function fits(wanted, { fields }) {
  return Object.entries(wanted).every(([name, values]) => !(name in fields) || values.includes(fields[name]));
}

/**
 * Whether a clearance's registers make a line be asked, in a cell or at all.
 *
 * A ground counts after it was taken off too: what went on is counted off.
 */
export function askedNow(state, of, when, cell = null) {
  if (when.new_shift) return state.isolations.get(of).walkDue !== null;
  if (when.grounds) return state.items("ground", of).size > 0;
  if (!("register" in when)) return true;
  const { register, ...wanted } = when;
  return [...state.items(register, of).values()].some(
    (item) =>
      (register === "ground" || !item.gone) &&
      (cell === null || [cell, undefined].includes(item.fields.cell)) &&
      fits(wanted, item),
  );
}

/** Whether a line of a cell was given under this clearance, if one must. */
function givenIn(state, isolation, when, cell) {
  if (!("given" in when)) return true;
  const lines = when.given.map((code) => state.lines.find("point", cell, code));
  return lines.some((one) => one !== null && one.at >= isolation.opened);
}

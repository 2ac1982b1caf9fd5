// What things are called on the safety page: cells, sections, items of a register, times.

import { personKey } from "../safety/people.js";
import { siteTime } from "../words.js";

/** A time of today as 07:05, of another day with its date. */
export function clock(at, zone) {
  return siteTime(at, zone).replace(" today", "");
}

/** The cells of a lineup: [{id, number, name, bus}], by their numbers. */
export function cellsOf(book, lineup) {
  const cells = Object.entries(book.lineups[lineup]?.cells ?? {}).map(([id, cell]) => ({ id, ...cell }));
  return cells.sort((a, b) => String(a.number).localeCompare(String(b.number), "en", { numeric: true }));
}

/** The lineup and the cell with this id; null where the book has none. */
export function cellOf(book, id) {
  for (const lineup of Object.keys(book.lineups)) {
    const cell = cellsOf(book, lineup).find((one) => one.id === id);
    if (cell) return { lineup, ...cell };
  }
  return null;
}

/** The cells under a clearance: those of its section that were not handed back. */
export function cellsUnder(book, isolation) {
  return cellsOf(book, isolation.lineup).filter(
    (cell) =>
      (isolation.section === null || cell.bus === isolation.section) &&
      !isolation.returned_cells.includes(cell.id),
  );
}

/** The sections of a lineup that a clearance can be for. */
export function sectionsOf(book, lineup) {
  return [...new Set(cellsOf(book, lineup).map((cell) => cell.bus))].filter(Boolean);
}

export function sectionWords(book, { lineup, section }) {
  const name = book.lineups[lineup]?.name ?? "lineup";
  return section === null ? `${name}, all of it` : `${name}, ${busWords(section)}`;
}

/** A bus by its name, whether that says "bus" or not. */
export function busWords(bus) {
  return /bus/i.test(bus) ? bus : `bus ${bus}`;
}

/** "Cell 3"; of another lineup than the round's, with its name: "LB-2, cell 1". */
export function cellOfSite(store, id) {
  const { book } = store.safety;
  const cell = cellOf(book, id);
  const away = cell && cell.lineup !== store.doc.lineup.id;
  return away ? `${book.lineups[cell.lineup].name}, cell ${cell.number}` : `Cell ${cell?.number ?? "?"}`;
}

/** "cell 3", "cells 1, 3 and 4". */
export function cellWords(book, ids) {
  const numbers = ids.map((id) => cellOf(book, id)?.number ?? "?");
  return `${numbers.length === 1 ? "cell" : "cells"} ${listed(numbers)}`;
}

/** "a", "a and b", "a, b and c". */
export function listed(words) {
  if (words.length < 2) return words.join("");
  return `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;
}

/** What is noted, as it is read: a time by the clock, people by name, grounds by theirs. */
export function notedWords(store, name, value) {
  const field = store.safety.book.fields[name];
  if (value === null || value === undefined || value === "") return "";
  const said = valueWords(store, field?.kind, value);
  return field?.unit ? `${said} ${field.unit}` : said;
}

function valueWords(store, kind, value) {
  if (kind === "time") return clock(value, store.zone);
  if (kind === "person") return value.name;
  if (kind === "people") return listed(value.map(({ name }) => name));
  if (kind === "grounds") return listed(value.map((item) => groundName(store, item)));
  if (kind === "cell") return cellWords(store.safety.book, [value].flat());
  if (kind === "choice") return String(value).replaceAll("_", " ");
  return String(value);
}

function groundName(store, item) {
  const grounds = store.safety.site().isolations.flatMap((one) => one.grounds);
  const ground = grounds.find((one) => one.item === item);
  return ground ? itemName(store, "ground", ground) : "a ground";
}

/** A register's item in a few words: what it is called, and where it is. */
export function itemName(store, register, { fields }) {
  const words = NAMING[register].map((name) => notedWords(store, name, fields[name])).filter(Boolean);
  return words.join(", ") || register.replace("_", "-");
}

export const NAMING = {
  source: ["name", "isolating_point"],
  ground: ["number", "place"],
  put_back: ["what", "cell"],
  set: ["name"],
  place: ["name"],
};

/** The item that a line is about, in words; null where it holds once in its scope. */
export function lineItemName(store, scope, line) {
  const { book } = store.safety;
  const each = book.lines[line.code].each ?? [];
  if (!line.item) return null;
  if (each.includes("person")) return personName(store, line.item);
  if (each.includes("lineup")) return book.lineups[line.item]?.name ?? null;
  if (each.includes("cell")) return cellWords(book, [line.item]);
  for (const [register, items] of Object.entries(registersOf(scope))) {
    const found = items.find((one) => one.item === line.item);
    if (found) return itemName(store, register, found);
  }
  return null;
}

/** The registers of a scope: register -> its items. */
export function registersOf(scope) {
  return {
    source: scope.sources ?? [],
    ground: scope.grounds ?? [],
    put_back: scope.put_back ?? [],
    set: scope.sets ?? [],
    place: scope.places ?? [],
  };
}

/** The person with this key, as an act names them. */
export function personOf(store, key) {
  return { id: key.startsWith("name:") ? null : key, name: personName(store, key) };
}

function personName(store, key) {
  const site = store.safety.site();
  const people = [...site.crews, ...site.isolations].flatMap((one) => one.people);
  const known = people.find((one) => one.key === key) ?? store.safety.book.people.find((one) => one.id === key);
  if (known) return known.name;
  const { speaker } = store.safety;
  return personKey(speaker) === key ? speaker.name : key.replace("name:", "");
}

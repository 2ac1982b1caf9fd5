// What was noted with a line, as words.

import { saidUnit } from "/offline/reader.js";
import { clockAt } from "./site_clock.js";
import { groundWords } from "./noted_fields.js";

/** Return "serial 4711 · people 5" of what a line carries, by the fields of the book. */
export function notedWords(store, noted) {
  return Object.entries(noted ?? {})
    .map(([name, value]) => [store.safety.book.fields[name], value])
    .filter(([field]) => field)
    .map(([field, value]) => `${field.label.toLowerCase()} ${valueWords(store, field, value)}`)
    .join(" · ");
}

/** Return one value as it is read. */
export function valueWords(store, { kind, unit }, value) {
  const kinds = {
    time: () => clockAt(Date.parse(value), store.zone),
    person: () => value.name,
    people: () => value.map(({ name }) => name).join(", "),
    grounds: () => value.map((item) => groundNamed(store, item)).join("; "),
    cell: () => `cell ${store.doc.cells.find(({ id }) => id === value)?.number ?? value}`,
    choice: () => value.replaceAll("_", " "),
  };
  const words = kinds[kind]?.() ?? String(value);
  return unit ? `${words} ${saidUnit(unit)}` : words;
}

function groundNamed(store, item) {
  const all = store.safety.site().isolations.flatMap(({ grounds }) => grounds);
  const found = all.find((one) => one.item === item);
  return found ? groundWords(found) : item;
}

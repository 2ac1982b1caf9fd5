// The sentences of safety, from the catalogue that the server says them by.

import { has, say } from "/offline/words/catalogue.js";
import { siteTime } from "../words.js";

const TIMES = new Set(["at", "since"]);

/** Why a card is closed, as a sentence. */
export function reasonWords(store, { code, facts }) {
  return sentence(`safety.reason.${code}`, parts(store, facts));
}

/** Why an act was not taken, as a sentence. */
export function refusalWords(store, { code, facts }) {
  const id = has(`safety.refusal.${code}`) ? `safety.refusal.${code}` : `safety.reason.${code}`;
  return sentence(id, parts(store, facts ?? {}));
}

/** A change word, such as `ground`, in words. */
export const changeWord = (store, word) => store.safety?.book.changes?.[word] ?? word.replaceAll("_", " ");

// What fell, by the act that made it fall: said where a line only knows that it rested on it.
const FELL = {
  leave: () => "the cell was left",
  enter: (store, { cell }) => `the cell was left for ${named(store, cell)}`,
  change: (store, { what }) => changeWord(store, what),
  list: () => "the clearance was asked again: its list changed",
  sign_off: (store, { person }) => `${person?.name ?? "somebody"} signed off`,
  end_crew: () => "the shift ended",
  hand_back: () => "the clearance was handed back",
  stop: () => "the work was stopped",
};

/** Why a line lapsed, in words; where a wider scope fell, what made it fall. */
export function lapseWord(store, word, at) {
  const fell = word === "wider" && store.safety.acts.findLast((act) => act.act in FELL && Date.parse(act.at) === Date.parse(at));
  return fell ? FELL[fell.act](store, fell) : changeWord(store, word);
}

// An older page may meet a word of a newer server.
const sentence = (id, facts) => (has(id) ? say(id, facts) : id.split(".").at(-1).replaceAll("_", " "));

function parts(store, facts) {
  const found = Object.entries(facts).map(([name, value]) => [name, part(store, name, value)]);
  return Object.fromEntries(found);
}

function part(store, name, value) {
  if (value === null || value === undefined) return "";
  if (TIMES.has(name)) return siteTime(value, store.zone).replace(" today", "");
  if (name === "why") return changeWord(store, value);
  if (Array.isArray(value)) return value.map((one) => named(store, one)).join(", ");
  return named(store, value);
}

/** A card, a cell or an item of a register by what is written on it; all else as it stands. */
function named(store, value) {
  const card = store.cards.get(value);
  if (card) return `${card.title}, ${card.apparatus.label}`;
  const lineup = Object.values(store.safety.book.lineups).find(({ cells }) => Object.hasOwn(cells, value));
  if (lineup) return `cell ${lineup.cells[value].number}`;
  const listed = store.safety.acts.findLast(({ act, item }) => act === "list" && item === value);
  return String((listed && itemName(listed.fields)) || value);
}

/** What is written on an item of a register, and where it is: "7 (line side)". */
function itemName({ number, name, place }) {
  const written = number || name;
  return written && place ? `${written} (${place})` : written || place;
}

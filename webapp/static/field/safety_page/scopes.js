// Which crew, clearance and cell one is at, and which of their lines are asked now.

import { inSentence } from "/offline/reader.js";
import { personKey } from "../safety/people.js";

const ASKED = new Set(["open", "lapsed"]);

/** Lines that are asked: never given, or lapsed since. */
export function asked(lines) {
  return lines.filter(({ state }) => ASKED.has(state));
}

/** Lines that stand, whichever way. */
export function standing(lines) {
  return lines.filter(({ state }) => !ASKED.has(state));
}

/** Whether this round's cards rest on the scopes; one that was over before there were any never did. */
export const byScopes = (store) => Boolean(store.safety) && !(store.doc.round.earlier_list && store.doc.round.state !== "open");

export const live = (scopes) => scopes.filter(({ state }) => state !== "ended" && state !== "none");

/** The crew of who speaks; else the one that covers this round's lineup; else none. */
export function crewHere(store) {
  const crews = live(store.safety.site().crews);
  const key = personKey(store.safety.speaker);
  return (
    crews.find((crew) => crew.people.some((one) => one.key === key && !one.left)) ??
    crews.find((crew) => crew.lineups.includes(store.doc.lineup.id)) ??
    crews[0] ??
    null
  );
}

/** Whether a crew took this round's lineup into its shift. */
export const worksHere = (store, crew) => crew.lineups.includes(store.doc.lineup.id);

/** The clearances that have not ended, of this round's lineup first. */
export function clearancesHere(store) {
  const here = (one) => Number(one.lineup === store.doc.lineup.id);
  return live(store.safety.site().isolations).sort((a, b) => here(b) - here(a));
}

export function isEach(book, code, each) {
  return (book.lines[code].each ?? []).includes(each);
}

/** A person's own lines of a scope, also those that nobody has begun yet. */
export function ownLines(book, codes, scope, key) {
  return codes
    .filter((code) => isEach(book, code, "person"))
    .map((code) => scope.lines.find((line) => line.code === code && line.item === key) ?? blank(code, key));
}

function blank(code, item) {
  return { code, item, state: "open", by: null, at: null, noted: {}, reason: null, lapsed_by: null, lapsed_at: null };
}

/** The lines of a scope that are said once for all of it, by whoever is in charge. */
export function sharedLines(book, scope) {
  return scope.lines.filter(({ code }) => !isEach(book, code, "person"));
}

/** Cards of this round that rest on *scope* and lie in one of *cells*. */
export function cardsIn(store, cells, scope = "isolation") {
  const { cards } = store.safety.book;
  return store.doc.cards
    .filter(({ id, cell_id: cell }) => cells.includes(cell) && cards[id]?.rests_on.includes(scope))
    .map(({ id }) => store.card(id))
    .filter(({ state }) => state !== "withdrawn");
}

/** Those of *cards* on which readings can be entered at this moment. */
export function openCards(store, cards) {
  return cards.filter(({ id, state }) => state !== "signed" && store.safety.card(id).open);
}

export function cardName({ title, apparatus }) {
  return `${inSentence(title)}, ${apparatus.label}`;
}

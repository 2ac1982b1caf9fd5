// What a change closes and what is asked again: worked out before it is recorded.

import { cardName, cardsIn, openCards } from "./scopes.js";
import { cellWords, listed } from "./names.js";

/** Whether what changed touches the isolation as a whole: then every cell is left. */
const CLOSES_ALL = new Set(["lock", "point", "ground", "source", "boundary", "holder", "clearance"]);

/** The change words by which lines among *codes* lapse, without those that follow by themselves. */
export function wordsOf(book, codes) {
  const words = codes.flatMap((code) => book.lines[code]?.lapses ?? []);
  return [...new Set(words)].filter((word) => !BY_ITSELF.has(word));
}

const BY_ITSELF = new Set(["charge", "person", "crew", "briefing", "left", "shift", "stop", "wider", "made_safe", "card_left", "idle", "grounds_back"]);

/** The lines of *codes* that are asked again after *what*. */
export function askedAgain(book, codes, what) {
  const lines = codes.filter((code) => book.lines[code]?.lapses.includes(what));
  return CLOSES_ALL.has(what) && codes.includes("G07b") && !lines.includes("G07b") ? [...lines, "G07b"] : lines;
}

/**
 * Say in sentences what recording *what* does: the cards it closes by name, what is asked
 * again. *about*: codes, lines (that are asked now), cells (ids), scope.
 */
export function consequences(store, about, what) {
  const { book } = store.safety;
  // A boundary that moved changes the distances that the crew wrote down.
  const wider = about.scope === "isolation" && what === "boundary" ? askedAgain(book, book.crew, what) : [];
  const there = new Set([...about.lines.map(({ code }) => code), "G07b", ...wider]);
  const codes = [...askedAgain(book, about.codes, what), ...wider].filter((code) => there.has(code));
  const closed = openCards(store, cardsIn(store, about.cells, about.scope));
  return [closedWords(closed), againWords(book, codes), enterWords(store, about, what)].filter(Boolean);
}

function closedWords(closed) {
  if (!closed.length) return "No card of this round is open under it now.";
  const names = listed(closed.slice(0, 6).map(cardName));
  const more = closed.length > 6 ? `, and ${closed.length - 6} more` : "";
  const verb = closed.length === 1 ? "This closes 1 open card" : `This closes ${closed.length} open cards`;
  return `${verb} for entry: ${names}${more}. What is typed there stays; making safe can be recorded.`;
}

function againWords(book, codes) {
  if (!codes.length) return null;
  return `Asked again: ${listed(codes.map((code) => `“${short(book.lines[code].text)}” (${code})`))}.`;
}

/** A line without its details. */
function short(text) {
  return text.replace(/[.:].*$/, "");
}

function enterWords(store, { scope, cells }, what) {
  if (scope !== "isolation" || !CLOSES_ALL.has(what)) return null;
  const { points } = store.safety.site();
  const inside = cells.filter((cell) => points[cell]?.state === "stands");
  if (!inside.length) return null;
  return `${cellWords(store.safety.book, inside).replace(/^c/, "C")} must be entered again.`;
}

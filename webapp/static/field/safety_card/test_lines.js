// The lines of a card before its first reading: the next one in hand, the list below.

import { asksOf, conditionsNow, instrumentOf, isByEye } from "../conditions.js";
import { h } from "../dom.js";
import { lapseWord } from "../safety/words.js";
import { siteTime } from "../words.js";
import { givenLines } from "./given_lines.js";
import { knownValues, SERIAL } from "./known_values.js";
import { focusOf, lineEntry } from "./line_entry.js";
import { isOpen, lineList } from "./line_list.js";
import { notedWords } from "./noted_words.js";

const ANEW = ["number", "time"]; // counted, measured and looked at again
const OF_TEST = ["test_open", "asked_again"];

/** Whether the scopes that the card rests on stand, so that its own lines can be given. */
export function wideStand({ reasons }) {
  return reasons.every(({ code }) => OF_TEST.includes(code));
}

/** Draw the lines of the test, the next one in hand; *begun*: those that stand in one line. */
export function testLines(store, card, ui, standing, begun) {
  const { lines } = standing.test;
  const open = lines.filter(isOpen);
  const may = store.mayRecord && wideStand(standing);
  const inHand = may ? (open.find(({ code }) => code === ui.inHand) ?? open[0]) : undefined;
  return [
    choiceOf(store, card),
    inHand && entryFor(store, card, ui, { lines, open, inHand, scope: "test", isolation: standing.isolation.of }),
    begun && givenLines(store, card, ui, "test"),
    begun ? open.length > 1 && listOf(store, card, ui, open, inHand) : listOf(store, card, ui, lines, inHand),
  ];
}

function listOf(store, card, ui, lines, inHand) {
  const given = lines.filter((line) => !isOpen(line)).length;
  const take = inHand && (({ code }) => turnTo(store, card, ui, "test", code));
  return h(
    "section",
    { class: "sheet safety-list", "aria-label": "Before the first reading" },
    h("p", { class: "list-head" }, h("span", { class: "strong" }, "Before the first reading"), h("span", { class: "quiet" }, `${given} of ${lines.length}`)),
    lineList(store, lines, inHand, take),
  );
}

/** The line in hand of a card's list; *more* goes into its ask. */
export function entryFor(store, card, ui, { lines, open, inHand, scope, timer, ...more }) {
  const next = open[(open.indexOf(inHand) + 1) % open.length];
  return lineEntry(store, ui, {
    scope,
    of: card.id,
    code: inHand.code,
    place: `${lines.indexOf(inHand) + 1} of ${lines.length}`,
    again: inHand.state === "lapsed" && againWords(store, inHand),
    known: knownValues(store, card, inHand.code, timer),
    earlier: earlierOf(store, inHand),
    beside: store.safety.book.lines[inHand.code].fields.includes(SERIAL) && !isByEye(store, card) && instrumentOf(store, card),
    later: open.length > 1 ? () => turnTo(store, card, ui, scope, next.code) : null,
    ...more,
    done: () => {
      ui.inHand = next.code;
      ui.lastLine = open.length === 1;
      ui.focus = focusOf(store, scope, next.code, knownValues(store, card, next.code, timer));
    },
  });
}

/** Take another line of the list in hand. */
export function turnTo(store, card, ui, scope, code) {
  ui.inHand = code;
  ui.lineForm = null;
  ui.focus = focusOf(store, scope, code, knownValues(store, card, code));
  store.changed();
}

function againWords(store, { lapsed_by: word, lapsed_at: at }) {
  return `Asked again: ${lapseWord(store, word, at)}, ${siteTime(at, store.zone)}`;
}

/** What was noted when the line was given before: offered, never taken over silently. */
function earlierOf(store, { state, noted }) {
  if (state !== "lapsed") return null;
  const values = Object.fromEntries(Object.entries(noted).filter(([name]) => !ANEW.includes(store.safety.book.fields[name]?.kind)));
  const words = notedWords(store, values);
  return words ? { words, values } : null;
}

/** Supply or method, where the lines differ by it: chosen first. */
function choiceOf(store, card) {
  const { by, lists } = store.safety.book.cards[card.id];
  const ask = by && Object.keys(lists).length > 1 && asksOf(store, card).find(({ name }) => name === by);
  if (!ask || !store.mayRecord) return null;
  const chosen = conditionsNow(store, card).conditions[by];
  const choose = (value) => {
    store.draft(card.id).conditions[by] = value;
    store.saveDrafts();
    store.changed();
  };
  return h(
    "div",
    { class: "sheet safety-choice", role: "group", "aria-label": ask.label },
    h("p", { class: "sheet-title" }, ask.label),
    h(
      "div",
      { class: "outcomes" },
      Object.keys(lists).map((value) =>
        h("button", { type: "button", class: "outcome", "data-focus": `choice-${value}`, "aria-pressed": String(value === chosen), onclick: () => choose(value) }, ask.field?.choices?.[value] ?? value),
      ),
    ),
  );
}

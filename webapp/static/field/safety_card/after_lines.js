// The lines after the test: opened by the first reading, never closed by a lapse or a stop.

import { h } from "../dom.js";
import { counted } from "../words.js";
import { dischargeTimer, timerPart } from "./discharge_timer.js";
import { isOpen, lineList } from "./line_list.js";
import { inHandId } from "./line_entry.js";
import { entryFor, turnTo } from "./test_lines.js";

const SET_TIME = "P03a"; // the ground stayed on for the set time

/** Draw the part after the test; *over*: nothing is left to read, so its lines are in hand. */
export function afterLines(store, card, ui, standing, over) {
  const { state, lines } = standing.after;
  if (state === "none" || !lines.length) return null;
  const begun = readOnce(store, lines);
  const open = lines.filter(isOpen);
  const may = store.mayRecord && open.length > 0 && !["signed", "withdrawn"].includes(card.state);
  const shown = over || ui.afterInHand;
  const timer = dischargeTimer(store, standing);
  const inHand = may && shown ? (open.find(({ code }) => code === ui.inHand) ?? open[0]) : undefined;
  return h(
    "section",
    { class: "after-test", "aria-label": "After the test" },
    h("div", { class: "sheet after-head" }, h("h2", {}, begun ? `After: ${lines.length - open.length} of ${lines.length}` : "After the test"), headWords(may, shown, open, begun), may && !shown && opener(store, ui)),
    may && open.some(({ code }) => code === SET_TIME) && h("div", { class: "sheet" }, timerPart(store, card, ui, timer)),
    inHand && entryFor(store, card, ui, { lines, open, inHand, scope: "after", isolation: standing.isolation.of, ...waiting(store, inHand, timer) }),
    (shown || !may) && h("div", { class: "sheet safety-list" }, lineList(store, lines, inHand, may && (({ code }) => turnTo(store, card, ui, "after", code)))),
  );
}

/** Before the first reading only what ends a state of this card's own can be given: a ground back. */
function readOnce(store, lines) {
  const ends = new Set(Object.values(store.safety.book.lines).flatMap(({ suspends }) => suspends?.until ?? []));
  return lines.some(({ code }) => !ends.has(code));
}

function headWords(may, shown, open, begun) {
  if (!may || shown) return null;
  if (!begun) return h("p", { class: "quiet" }, "What this card took off or charged can be made safe at any time; the other lines come with the first reading.");
  return h("p", { class: "quiet" }, `${counted(open.length, "line")} to give before the card is signed; a reading taken again asks them again.`);
}

function opener(store, ui) {
  const open = () => {
    ui.afterInHand = true;
    ui.focus = inHandId("after");
    store.changed();
  };
  return h("button", { type: "button", class: "button", "data-focus": "after-open", onclick: open }, "The test is over");
}

/** The set time is waited for; earlier only where two people agree by name. */
function waiting(store, { code }, timer) {
  if (code !== SET_TIME) return {};
  const waits = !timer || store.safety.now() < timer.overMs;
  const words = timer ? "This line waits for the discharge timer." : "Press \u201cThe dc is off\u201d first.";
  return { timer, waits, override: waits ? "Earlier, by two names" : null, beside: waits && h("p", { class: "strong" }, words) };
}

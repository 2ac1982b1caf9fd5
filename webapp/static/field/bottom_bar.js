// The bar under a card: keys, what is typed and not recorded, and the one large key.

import { inSentence } from "/offline/reader.js";
import { h } from "./dom.js";
import { CANNOT_KEEP } from "./kept/keep.js";
import { keypad, keyRow, ownKeypad } from "./keypad.js";
import { nextOf } from "./next_card.js";
import { wireRow } from "./wire_choice.js";
import { counted } from "./words.js";

const TIMES = ["s", "ms"];

/** Draw the bar of a card on which something is to be read. */
export function bottomBar(store, ui, points) {
  const status = h("span", { class: "quiet bottom-said", role: "status" });
  const main = h("button", { type: "button", class: "button button-main bottom-main", "data-focus": "record-next" });
  const all = h("button", { type: "button", class: "button bottom-all", onclick: () => points.recordAll() });
  const show = () => {
    const typed = points.typedPoints();
    all.textContent = `Record all ${typed.length}`;
    all.hidden = typed.length < 2;
    const point = points.active();
    const text = points.draft.textOf(point);
    status.textContent = [rangeWords(points, point, text), keptWords(store, points)].filter(Boolean).join(" · ");
    const next = ownKeypad() ? ", next point ›" : " ›";
    main.textContent = text ? `Record ${point.label}${next}` : "Next point ›";
    main.onclick = () => {
      if (text) points.record(point);
      else focusPoint(points, point);
    };
  };
  ui.activeChanged = show;
  show();
  const own = ownKeypad();
  return h("div", { class: "bottom-bar" }, status, all, wireRow(points), own ? keypad(points, main) : keyRow(points), !own && main);
}

/** Draw the bar of a card that is read: the next card is one tap away. */
export function readBar(store, card) {
  const next = store.mayRecord && nextOf(store, card);
  if (!next) return null;
  return h(
    "div",
    { class: "bottom-bar" },
    h("span", { class: "quiet bottom-said" }, `All points are read. Next: ${next.apparatus.label}, ${inSentence(next.title)}`),
    h("a", { class: "button button-main bottom-main", "data-focus": "next-card-bar", href: `#/cards/${next.id}` }, "Next card ›"),
  );
}

/** What a bound means where the reading is a time: it judges nothing that it does not show. */
function rangeWords(points, point, text) {
  if (!text.startsWith(">") || !TIMES.includes(points.draft.unitOf(point))) return "";
  return "over range: it had not operated by then";
}

function focusPoint(points, point) {
  const order = points.card.points.filter((one) => points.draft.editing(one));
  const field = document.querySelector(`[data-focus="reading-${point.id}"]`);
  const onIt = document.activeElement === field;
  const next = onIt ? order[(order.indexOf(point) + 1) % order.length] : point;
  const target = document.querySelector(
    `[data-focus="reading-${next.id}"], [data-focus^="outcome-${next.id}"]`,
  );
  points.activate(next);
  target?.scrollIntoView({ block: "center" });
  target?.focus({ preventScroll: true });
}

function keptWords(store, points) {
  if (store.keep.broken) return CANNOT_KEEP;
  const typed = points.typedPoints().length;
  return typed ? `${counted(typed, "typed value")} kept on this tablet, not recorded yet` : "";
}

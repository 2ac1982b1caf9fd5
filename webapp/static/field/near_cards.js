// The neighbouring cell or card: by a swipe, by a key, by a link.

import { h } from "./dom.js";

const LEAST_PX = 90; // so far a finger moves sideways before it is a swipe ...
const LONGEST_MS = 700; // ... and no longer than that
const FIELDS = "input, select, textarea, [contenteditable]";
// Where a finger means something else: a field, a drawing, what scrolls sideways itself.
const NOT_HERE = `${FIELDS}, canvas, button, video, .elevation-frame, .cells-strip, .bottom-bar, [data-draws]`;

let store = null;
let begun = null;

/** Return the one before (-1) or after (1) in the round; undefined at its ends. */
export function beside(list, id, step) {
  const at = list.findIndex((one) => one.id === id);
  return at < 0 ? undefined : list[at + step];
}

/** Return the step that a finger's way means: 1 to the next, -1 back, 0 none. */
export function swipeStep({ x, y, ms }) {
  if (ms > LONGEST_MS || Math.abs(x) < LEAST_PX || Math.abs(y) > Math.abs(x) / 2) return 0;
  return x < 0 ? 1 : -1;
}

/** Draw the links to both neighbours; *words* names one: "Card 7". */
export function besideLinks(list, id, kind, words) {
  const link = (one, before, after) =>
    one && h("a", { class: "button", href: `#/${kind}/${one.id}`, "data-focus": `beside-${before}${after}` }, `${before}${words(one)}${after}`);
  return [link(beside(list, id, -1), "‹ ", ""), link(beside(list, id, 1), "", " ›")];
}

/** Listen for swipes and for the keys Page up and Page down. */
export function listenNear(now) {
  if (!store) {
    addEventListener("keydown", onKey);
    addEventListener("touchstart", onTouch, { passive: true });
    addEventListener("touchend", onLift, { passive: true });
    addEventListener("touchcancel", () => (begun = null), { passive: true });
  }
  store = now;
}

/** Whether a value is being typed: then neither a finger nor a key leaves the page. */
function typing() {
  const at = document.activeElement;
  if (!at?.matches(FIELDS)) return false;
  return !at.matches("input") || at.value !== "";
}

function onKey(event) {
  const step = { PageDown: 1, PageUp: -1 }[event.key];
  if (!step || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
  if (event.defaultPrevented || typing()) return;
  if (go(step)) event.preventDefault();
}

function onTouch({ touches, target, timeStamp }) {
  const here = touches.length === 1 && !target.closest?.(NOT_HERE);
  begun = here ? { x: touches[0].clientX, y: touches[0].clientY, at: timeStamp } : null;
  // Drawn anew meanwhile, it is off the page, and the window does not hear the finger's end.
  if (here) target.addEventListener("touchend", onLift, { passive: true, once: true });
}

function onLift({ changedTouches: [touch], timeStamp }) {
  if (!begun || typing()) return;
  const { x, y, at } = begun;
  begun = null;
  const step = swipeStep({ x: touch.clientX - x, y: touch.clientY - y, ms: timeStamp - at });
  if (step) go(step);
}

function go(step) {
  const [, kind, id, part] = location.hash.split("/");
  const list = { cards: store.doc.cards, cells: store.doc.cells }[kind];
  const found = list && !part && beside(list, id, step);
  if (found) location.hash = `#/${kind}/${found.id}`;
  return Boolean(found);
}

// Keys for gloves: a keypad of our own as a choice, else the keys that a soft keyboard lacks.

import { saidUnit } from "/offline/reader.js";
import { h } from "./dom.js";
import { keepSetting, setting } from "./kept/settings.js";

const NUMERIC = "input[inputmode=decimal], input[inputmode=none]";
// From the smallest to the largest, of one quantity each.
const UNIT_STEPS = [
  ["uOhm", "mOhm", "Ohm", "kOhm", "MOhm", "GOhm", "TOhm"],
  ["ms", "s"],
  ["uA", "mA", "A"],
  ["V", "kV"],
  ["Pa", "mbar", "Torr"],
];
const DIGITS = ["7", "8", "9", "4", "5", "6", "1", "2", "3"];

let lastField = ""; // the number field that one was in: a key that has the focus writes there
addEventListener("focusin", ({ target }) => {
  if (target.matches?.(NUMERIC)) lastField = target.dataset.focus ?? "";
});

export const ownKeypad = () => setting("keypad", false) === true;

/** What a number field asks of the soft keyboard: none beside our own keys. */
export const inputMode = () => (ownKeypad() ? "none" : "decimal");

/** Return the unit one step larger (1) or smaller (-1) among *units*; undefined at the end. */
export function unitBeside(units, unit, step) {
  const order = UNIT_STEPS.find((one) => one.includes(unit)) ?? units;
  const offered = order.filter((one) => units.includes(one));
  return offered[offered.indexOf(unit) + step];
}

/** Put *text* where the caret is, or take away what is before it (text null). */
export function write(field, text) {
  const { selectionStart: from, selectionEnd: to } = field;
  if (text !== null) field.setRangeText(text, from, to, "end");
  else field.setRangeText("", from === to ? Math.max(0, from - 1) : from, to, "end");
  field.dispatchEvent(new Event("input", { bubbles: true }));
}

/** The keys beside a soft keyboard: minus and e, over and under range. */
export function keyRow(points) {
  return h(
    "div",
    { class: "actions bottom-keys" },
    key(points, "−", "minus", () => onField(points, "-")),
    key(points, "e", "times ten to the power", () => onField(points, "e")),
    points.draft.takesNumbers() && signKeys(points),
    choiceKey(points, "Keypad"),
  );
}

/** The keypad; *main* is the large key that records. */
export function keypad(points, main) {
  const digit = (text) => key(points, text, "", () => onField(points, text));
  const [over, under] = signKeys(points);
  const unit = (step, words) => key(points, words, "", () => stepUnit(points, step), "key-words");
  const rows = [
    [...DIGITS.slice(0, 3).map(digit), key(points, "Delete", "", () => onField(points, null), "key-words"), over, unit(1, "Larger unit")],
    [...DIGITS.slice(3, 6).map(digit), key(points, "−", "minus", () => onField(points, "-")), under, unit(-1, "Smaller unit")],
    [...DIGITS.slice(6).map(digit), digit("0"), key(points, ".", "point", () => onField(points, ".")), key(points, "e", "times ten to the power", () => onField(points, "e"))],
  ];
  return h(
    "div",
    { class: "keypad", role: "group", "aria-label": "Keypad" },
    h("div", { class: "keypad-keys" }, rows.flat()),
    h("div", { class: "keypad-side" }, choiceKey(points, "Hide keypad"), main),
  );
}

function signKeys(points) {
  const sign = (symbol, words) => key(points, `${words} ${symbol}`, "", () => toggle(points, symbol), "key-words");
  return [sign(">", "Over range"), sign("<", "Under range")];
}

function choiceKey(points, words) {
  const turn = () => {
    keepSetting("keypad", !ownKeypad());
    points.store.changed();
  };
  return h("button", { type: "button", class: "button key key-words", "data-focus": "keypad-choice", "aria-pressed": String(ownKeypad()), onclick: turn }, words);
}

/** A key leaves the focus in the field: it is pressed, not entered. */
function key(points, text, said, press, kind = "") {
  return h(
    "button",
    {
      type: "button",
      class: `button key ${kind}`,
      "data-focus": `key-${text}`,
      onpointerdown: (event) => event.preventDefault(),
      onclick: (event) => {
        const field = fieldOf(points);
        if (event.detail && field) field.focus({ preventScroll: true });
        press();
      },
    },
    text,
    said && h("span", { class: "out-of-sight" }, ` ${said}`),
  );
}

/** The number field that a key writes into: the one in hand, else the active point's. */
function fieldOf(points) {
  if (document.activeElement?.matches(NUMERIC)) return document.activeElement;
  const at = (name) => document.querySelector(`input[data-focus="${CSS.escape(name)}"]`);
  return at(lastField) ?? at(`reading-${points.active()?.id}`);
}

function onField(points, text) {
  const field = fieldOf(points);
  if (field) write(field, text);
}

/** Put a sign before what is typed, or take it away; a condition has no range. */
function toggle(points, sign) {
  const field = fieldOf(points);
  if (!field) return;
  if (field.dataset.point) return points.toggleSign(sign);
  if (!field.closest(".cell")) return;
  const bare = field.value.replace(/^[<>]\s*/, "");
  field.value = field.value.startsWith(sign) ? bare : sign + bare;
  field.dispatchEvent(new Event("input", { bubbles: true }));
}

function stepUnit(points, step) {
  const point = points.active();
  if (!point) return;
  const unit = unitBeside(points.procedure.units, points.draft.unitOf(point), step);
  if (!unit) return;
  points.draft.set(point, { unit });
  const select = document.querySelector(`#point-${CSS.escape(point.id)} .unit-select`);
  if (select) select.value = unit;
  points.live.textContent = `Unit ${saidUnit(unit)}`;
  points.judge();
}

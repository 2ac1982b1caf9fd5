// Choices of this tablet that one makes at a card: keypad, sound, vibration.

import { h } from "./dom.js";
import { callOut, readySound } from "./end_of_timer.js";
import { keepSetting, setting } from "./kept/settings.js";
import { canStayAwake } from "./screen_awake.js";
import { wireChoice } from "./wire_choice.js";

/** Draw the choices, folded until they are asked for. */
export function tabletChoices(store, card, ui) {
  return h(
    "details",
    { class: "sheet tablet-choices", open: ui.choicesOpen ?? false, ontoggle: (event) => (ui.choicesOpen = event.target.open) },
    h("summary", { "data-focus": "tablet-choices" }, "This tablet: keypad, sound, photographs, screen, wire"),
    choice(store, "keypad", "Large keypad of its own beside the fields"),
    choice(store, "sound", "Sound at the end of a timer"),
    "vibrate" in navigator ? choice(store, "vibration", "Vibration at the end of a timer") : h("p", {}, "This browser cannot make the tablet vibrate."),
    choice(store, "scaled-only", "Of a photograph the scaled picture alone, without the original"),
    h("button", { type: "button", class: "button", "data-focus": "try-call", onclick: callOut }, "Try sound and vibration"),
    h("p", { class: "quiet" }, awakeWords()),
    wireChoice(card, choice(store, "wire", "Read over a wire, one reading on one key")),
  );
}

function awakeWords() {
  return canStayAwake()
    ? "The screen stays on while a card is open."
    : "This browser cannot keep the screen on: set a longer screen time on the tablet itself.";
}

function choice(store, name, words) {
  const turn = (event) => {
    keepSetting(name, event.target.checked);
    if (name === "sound" && event.target.checked) readySound();
    store.changed();
  };
  return h("label", { class: "choice" }, h("input", { type: "checkbox", "data-focus": `choice-${name}`, checked: setting(name, false) === true, onchange: turn }), h("span", {}, words));
}

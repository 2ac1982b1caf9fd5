// An entry of the put-back list is back in its place: by whom, with which torque.

import { h } from "../dom.js";
import { act } from "./parts.js";

/** Return what can be done with an entry: say that it is back, with a torque where there is one. */
export function putBackForm(store, ui, isolation, entry) {
  if (entry.back) return [];
  const name = `back:${entry.item}`;
  const open = () => {
    ui[name] = { torque: "" };
    ui.focus = name;
    store.changed();
  };
  if (!ui[name]) return [h("button", { type: "button", class: "button", "data-focus": name, onclick: open }, "It is back")];
  const submit = (event) => {
    event.preventDefault();
    const torque = ui[name].torque.trim() || null;
    if (act(store, ui, { act: "put_back", isolation: isolation.of, item: entry.item, torque })) ui[name] = null;
    store.changed();
  };
  return [
    h(
      "form",
      { class: "put-back-form", onsubmit: submit },
      h(
        "div",
        { class: "field" },
        h("label", { for: name }, "Torque, where a joint was opened"),
        h("input", { id: name, "data-focus": name, autocomplete: "off", value: ui[name].torque, oninput: (event) => (ui[name].torque = event.target.value) }),
      ),
      h("button", { type: "submit", class: "button" }, "Put back"),
    ),
  ];
}

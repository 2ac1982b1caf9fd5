// Plain fields of the editor: a label, an entry, what is wrong with it.

import { h } from "../field/dom.js";

/** Return a text field; *changed(text)* is told each key. */
export function textField(label, value, { focus, changed, fault = "", wide = false, ...attributes }) {
  const id = focus.replaceAll(/[^a-z0-9]+/gi, "-");
  const input = h("input", {
    id,
    value,
    "data-focus": focus,
    autocomplete: "off",
    "aria-describedby": fault ? `${id}-fault` : null,
    "aria-invalid": fault ? "true" : null,
    oninput: (event) => changed(event.target.value),
    ...attributes,
  });
  return fieldBox(label, id, input, { fault, wide });
}

/** Return a choice among [value, words]. */
export function choiceField(label, value, options, { focus, changed, fault = "", wide = false, ...attributes }) {
  const id = focus.replaceAll(/[^a-z0-9]+/gi, "-");
  const select = h(
    "select",
    {
      id,
      value,
      "data-focus": focus,
      "aria-describedby": fault ? `${id}-fault` : null,
      "aria-invalid": fault ? "true" : null,
      onchange: (event) => changed(event.target.value),
      ...attributes,
    },
    options.map(([one, words]) => h("option", { value: one }, words)),
  );
  return fieldBox(label, id, select, { fault, wide });
}

function fieldBox(label, id, entry, { fault, wide }) {
  const kind = `${wide ? " plate-wide" : ""}${fault ? " field-faulty" : ""}`;
  return h(
    "div",
    { class: `field plate-field${kind}` },
    h("label", { for: id }, label),
    entry,
    fault && h("span", { class: "fault", id: `${id}-fault` }, fault),
  );
}

/** Return a button; its words are a verb. */
export function button(words, press, attributes = {}) {
  return h("button", { type: "button", class: "button", onclick: press, ...attributes }, words);
}

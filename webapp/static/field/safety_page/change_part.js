// "Something changed": what it is, what it closes, said before it is done.

import { h } from "../dom.js";
import { changeWord } from "../safety/words.js";
import { capital } from "../words.js";
import { consequences, wordsOf } from "./consequences.js";
import { itemName, registersOf } from "./names.js";
import { act } from "./parts.js";

// Which register a change word is about: there one item is named.
const OF_ITEM = { lock: "source", point: "source", ground: "ground", set: "set", air: "place", hazard: "place" };

const EXAMPLES = {
  crew: "The weather turned, a set was swapped, the work changed",
  isolation: "A lock off, a source found, a ground moved",
  point: "A detector changed, a link opened, damp seen",
};

/** Draw the part. *about*: of, codes, lines, cells, scope (whose cards it closes), registers. */
export function changedPart(store, ui, about) {
  const words = wordsOf(store.safety.book, about.codes);
  if (!words.length) return null;
  const form = ui.change?.of === about.of ? ui.change : null;
  return h(
    "section",
    { class: "sheet", "aria-labelledby": "changed-title" },
    h(
      "div",
      { class: "list-head" },
      h("h2", { id: "changed-title" }, "Something changed"),
      !form && h("button", { type: "button", class: "button", "data-focus": "change", onclick: () => open(store, ui, about) }, "Say what changed"),
    ),
    form ? changeForm(store, ui, about, form, words) : h("p", { class: "quiet" }, `${EXAMPLES[about.scope]}: what rests on it is asked again. What it closes is said first.`),
  );
}

function open(store, ui, about) {
  ui.change = { of: about.of, what: null, item: null, cause: "" };
  ui.focus = "change-0";
  store.changed();
}

function close(store, ui) {
  ui.change = null;
  ui.focus = "change";
  store.changed();
}

function changeForm(store, ui, about, form, words) {
  const submit = (event) => {
    event.preventDefault();
    form.fault = faultOf(form);
    if (!form.fault) {
      const { what, item, cause } = form;
      if (act(store, ui, { act: "change", what, of: about.of, item, cause: cause.trim() })) return close(store, ui);
    } else ui.focus = form.what ? "change-cause" : "change-0";
    store.changed();
  };
  return h(
    "form",
    { class: "inline-form", novalidate: true, onsubmit: submit },
    h("fieldset", { class: "field change-choices" }, h("legend", {}, "What changed"), words.map((word, n) => choice(store, form, word, n))),
    form.what && itemChoice(store, about, form),
    h(
      "div",
      { class: "field" },
      h("label", { for: "change-cause" }, "What happened, in a few words"),
      h("input", { id: "change-cause", "data-focus": "change-cause", autocomplete: "off", value: form.cause, oninput: (event) => (form.cause = event.target.value) }),
    ),
    form.what && said(store, about, form),
    form.fault && h("p", { class: "fault", role: "alert" }, form.fault),
    h(
      "div",
      { class: "actions" },
      h("button", { type: "submit", class: "button button-main" }, "Record the change"),
      h("button", { type: "button", class: "button button-quiet", onclick: () => close(store, ui) }, "Nothing changed"),
    ),
  );
}

function faultOf({ what, cause }) {
  if (!what) return "Choose what changed.";
  return cause.trim() ? null : "Write what happened: it stands in the record.";
}

function choice(store, form, word, n) {
  const choose = () => {
    form.what = word;
    form.item = null;
    store.changed();
  };
  return h(
    "label",
    { class: "choice" },
    h("input", { type: "radio", name: "what", "data-focus": `change-${n}`, checked: form.what === word, onchange: choose }),
    h("span", {}, capital(changeWord(store, word))),
  );
}

/** Which of several: without a choice all of them are meant. */
function itemChoice(store, about, form) {
  const register = OF_ITEM[form.what];
  const items = (registersOf(about.registers ?? {})[register] ?? []).filter(({ fields }) => !fields.gone);
  if (!items.length) return null;
  return h(
    "div",
    { class: "field" },
    h("label", { for: "change-item" }, "Which one"),
    h(
      "select",
      { id: "change-item", "data-focus": "change-item", value: form.item ?? "", onchange: (event) => (form.item = event.target.value || null) },
      h("option", { value: "" }, "all of them"),
      items.map((one) => h("option", { value: one.item }, itemName(store, register, one))),
    ),
  );
}

function said(store, about, form) {
  return h("div", { class: "notice notice-care", role: "status" }, consequences(store, about, form.what).map((one) => h("p", {}, one)));
}

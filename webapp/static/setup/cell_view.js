// What is in the chosen cell, and the plate of what is chosen in it.

import { h } from "../field/dom.js";
import { addApparatus, removeApparatus, relabel, setPlate } from "./apparatus.js";
import { renumber } from "./cells.js";
import { copyPlateView } from "./copy_plate_view.js";
import { cellOf, withCell } from "./draft.js";
import { button, choiceField, textField } from "./fields.js";
import { plateView } from "./plate_view.js";
import { spread } from "./sections.js";

/** Return the pane of the chosen cell. */
export function cellView(editor) {
  const cell = cellOf(editor.draft, editor.chosen);
  return [
    h("h2", { id: "pane-title", tabindex: -1 }, ["Cell " + cell.number, cell.name].filter(Boolean).join(" · ")),
    cellFields(editor, cell),
    inside(editor, cell),
    editor.apparatus && apparatusView(editor),
  ];
}

function cellFields(editor, cell) {
  const { draft, vocabulary } = editor;
  const place = cell.key;
  const fault = (name) => editor.faults.get(`${place}.${name}`);
  const change = (name, words) => (value) =>
    editor.act(withCell(editor.draft, cell.key, { [name]: value }), words, { typing: `${place}.${name}` });
  const kinds = vocabulary.gears[draft.gear].likely.map((kind) => [kind, vocabulary.cells[kind].words]);
  const sections = draft.sections.map(({ name }) => [name, name]);
  const others = sections.filter(([name]) => name !== cell.bus);
  return h(
    "div",
    { class: "plate-grid" },
    textField("Number", cell.number, {
      focus: `${place}.number`,
      fault: fault("number"),
      maxlength: 20,
      changed: (value) =>
        editor.act(renumber(editor.draft, cell.key, value), "the number of the cell", {
          typing: `${place}.number`,
        }),
      onchange: () => editor.drawPane(),
    }),
    textField("Name", cell.name, {
      focus: `${place}.name`,
      fault: fault("name"),
      maxlength: 80,
      changed: change("name", "the name of the cell"),
    }),
    choiceField("Drawn as", cell.kind, kinds, {
      focus: `${place}.kind`,
      fault: fault("kind"),
      changed: change("kind", "what the cell is drawn as"),
    }),
    choiceField("Bus section", cell.bus, sections, {
      focus: `${place}.bus`,
      fault: fault("bus"),
      changed: (name) => {
        const at = editor.draft.cells.findIndex((one) => one.key === cell.key);
        editor.act(spread(editor.draft, name, at, at), "the bus section of the cell");
      },
    }),
    others.length > 0 &&
      choiceField("Ties to", cell.tie_to ?? "", [["", "no other section"], ...others], {
        focus: `${place}.tie_to`,
        fault: fault("tie_to"),
        changed: (name) =>
          editor.act(withCell(editor.draft, cell.key, { tie_to: name || null }), "the tie of the cell"),
      }),
  );
}

/** The list of what is in the cell: one is chosen, and its plate stands below. */
function inside(editor, cell) {
  const { vocabulary } = editor;
  const rows = cell.apparatus.map((one) => {
    const wrong = [...editor.faults.keys()].some((place) => place.startsWith(`${one.key}.`));
    return h(
      "li",
      null,
      h(
        "button",
        {
          type: "button",
          class: "held",
          "aria-pressed": String(one.key === editor.apparatus),
          "data-focus": `held:${one.key}`,
          onclick: () => editor.chooseApparatus(one.key),
        },
        h("span", { class: "strong" }, one.label),
        h("span", { class: "detail" }, wrong ? "something is wrong" : summary(vocabulary, one)),
      ),
    );
  });
  return [
    h("h3", { class: "plate-head" }, "In this cell"),
    rows.length ? h("ul", { class: "held-list" }, rows) : h("p", { class: "quiet" }, "Nothing yet."),
    adding(editor, cell),
  ];
}

function summary(vocabulary, { kind, plate }) {
  const said = [plate.type, plate.serial && `no. ${plate.serial}`, plate.rated_a && `${plate.rated_a} A`];
  return said.filter(Boolean).join(", ") || vocabulary.kinds[kind].label;
}

function adding(editor, cell) {
  const { kinds } = editor.vocabulary;
  const options = Object.entries(kinds).map(([kind, { label }]) => [kind, label]);
  const id = "add-apparatus";
  const choose = h(
    "select",
    { id, "data-focus": "add:apparatus", value: "" },
    h("option", { value: "" }, "Choose what to add"),
    options.map(([value, words]) => h("option", { value }, words)),
  );
  const add = () => {
    const kind = choose.value;
    if (!kind) return choose.focus();
    const next = addApparatus(editor.draft, cell.key, kind, editor.tagOf(kind));
    editor.apparatus = next.added;
    editor.focus = `${next.added}.label`;
    return editor.act(next, `adding ${kinds[kind].label} to cell ${cell.number}`);
  };
  return h(
    "div",
    { class: "add-row" },
    h("div", { class: "field" }, h("label", { for: id, class: "out-of-sight" }, "Apparatus to add"), choose),
    button("Add apparatus", add, { "data-focus": "add:button" }),
  );
}

function apparatusView(editor) {
  const one = editor.apparatusNow();
  const { vocabulary } = editor;
  const plate = {
    kind: one.kind,
    values: one.plate,
    typed: one.typed,
    place: `${one.key}.plate`,
    id: one.key,
  };
  return h(
    "div",
    { class: "stack-tight plate" },
    h(
      "div",
      { class: "plate-title" },
      h("h3", null, one.label || vocabulary.kinds[one.kind].label),
      h("span", { class: "quiet" }, vocabulary.kinds[one.kind].label),
    ),
    textField("Tag", one.label, {
      focus: `${one.key}.label`,
      fault: editor.faults.get(`${one.key}.label`),
      maxlength: 80,
      changed: (label) =>
        editor.act(relabel(editor.draft, one.key, label), "a tag", { typing: `${one.key}.label` }),
      onchange: () => editor.drawPane(),
    }),
    plateView(vocabulary, plate, {
      faults: editor.faults,
      gear: editor.draft.gear,
      hz: () => editor.draft.ratings.rated_hz,
      change: (field, read) =>
        editor.act(setPlate(editor.draft, one.key, field, read), `the plate of ${one.label}`, {
          typing: `${one.key}.plate.${field}`,
          plate: `${one.key}.plate.${field}`,
        }),
    }),
    copyPlateView(editor, one),
    h(
      "p",
      { class: "actions" },
      button(
        `Remove ${one.label}`,
        () => {
          editor.focus = "add:apparatus";
          editor.act(removeApparatus(editor.draft, one.key), `removing ${one.label}`);
        },
        { class: "button button-quiet" },
      ),
    ),
  );
}

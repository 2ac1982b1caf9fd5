// The lineup's own name, gear, bus sections and ratings.

import { h } from "../field/dom.js";
import { setRating } from "./apparatus.js";
import { numberFromLeft } from "./cells.js";
import { button, choiceField, textField } from "./fields.js";
import { plateView } from "./plate_view.js";
import { readPlate, shown } from "./read_plate.js";
import { addSection, rangeOf, rateSection, removeSection, renameSection, setRange } from "./sections.js";

/** Return the pane of the lineup. */
export function lineupView(editor) {
  const { draft, vocabulary } = editor;
  const gears = Object.entries(vocabulary.gears).map(([gear, { words }]) => [gear, words]);
  const plate = {
    kind: "lineup",
    values: draft.ratings,
    typed: draft.typed,
    place: "lineup.ratings",
    id: "lineup",
  };
  return [
    h("h2", { id: "pane-title", tabindex: -1 }, "Lineup and bus"),
    h(
      "div",
      { class: "plate-grid" },
      textField("Name of the lineup", draft.name, {
        focus: "lineup.name",
        fault: editor.faults.get("lineup.name"),
        maxlength: 80,
        wide: true,
        changed: (name) =>
          editor.act({ ...editor.draft, name }, "the name of the lineup", { typing: "lineup.name" }),
      }),
      choiceField("Gear", draft.gear, gears, {
        focus: "lineup.gear",
        fault: editor.faults.get("lineup.gear"),
        changed: (gear) => editor.act({ ...editor.draft, gear }, "the gear"),
        wide: true,
      }),
    ),
    sectionsView(editor),
    rowChoice(editor),
    plateView(vocabulary, plate, {
      faults: editor.faults,
      gear: editor.draft.gear,
      hz: () => editor.draft.ratings.rated_hz,
      change: (field, read) =>
        editor.act(setRating(editor.draft, field, read), "the lineup’s own plate", {
          typing: `lineup.ratings.${field}`,
          plate: `lineup.ratings.${field}`,
        }),
    }),
    draft.cells.length > 1 &&
      h(
        "p",
        { class: "actions" },
        button("Number the cells from the left", () =>
          editor.act(numberFromLeft(editor.draft), "numbering the cells from the left"),
        ),
      ),
  ];
}

/** The voltages that belong together, from the published tables. */
function rowChoice(editor) {
  const { ratings, gear } = editor.draft;
  const { rows } = editor.vocabulary.gears[gear];
  const holds = (row) => Object.entries(row.ratings).every(([name, value]) => ratings[name] === value);
  const options = rows.map((row) => [row.key, `${row.words} · ${row.document}${row.recalled ? " (from memory)" : ""}`]);
  return choiceField("Voltages, as a row of a published table", rows.find(holds)?.key ?? "", [["", "as typed below"], ...options], {
    focus: "lineup.row",
    wide: true,
    changed: (key) => {
      const row = rows.find((one) => one.key === key);
      if (!row) return;
      const typed = Object.fromEntries(Object.entries(editor.draft.typed).filter(([name]) => !(name in row.ratings)));
      editor.act({ ...editor.draft, typed, ratings: { ...ratings, ...row.ratings } }, "the voltages of the lineup");
    },
  });
}

function sectionsView(editor) {
  const { draft } = editor;
  return [
    h("h3", { class: "plate-head" }, "Bus sections"),
    draft.sections.map((section, at) => sectionView(editor, section, at)),
    h(
      "p",
      { class: "actions" },
      button("Add a section", () => {
        editor.focus = `lineup.sections.${editor.draft.sections.length}.name`;
        editor.act(addSection(editor.draft), "adding a bus section");
      }),
    ),
  ];
}

function sectionView(editor, section, at) {
  const { draft } = editor;
  const place = `lineup.sections.${at}`;
  const fault = (name) => editor.faults.get(`${place}.${name}`);
  return h(
    "div",
    { class: "section-row", role: "group", "aria-label": `Bus section ${section.name}` },
    textField("Name", section.name, {
      focus: `${place}.name`,
      fault: fault("name"),
      maxlength: 80,
      changed: (name) =>
        editor.act(renameSection(editor.draft, at, name), "the name of a bus section", {
          typing: `${place}.name`,
        }),
    }),
    currentField(editor, section, at, fault("rated_a")),
    draft.cells.length > 0 && rangeFields(editor, section, place),
    draft.sections.length > 1 &&
      button(
        `Remove ${section.name}`,
        () => {
          editor.focus = "lineup.name";
          editor.act(removeSection(editor.draft, at), `removing ${section.name}`);
        },
        { class: "button button-quiet" },
      ),
  );
}

function currentField(editor, section, at, fault) {
  const field = editor.vocabulary.fields.rated_a;
  const words = h("span", { class: "fault", role: "status" }, fault);
  const box = textField("Rated current, A", shown(field, section.rated_a), {
    focus: `lineup.sections.${at}.rated_a`,
    inputmode: "decimal",
    changed: (text) => {
      const read = readPlate(field, text);
      words.textContent = read.fault ?? "";
      box.classList.toggle("field-faulty", Boolean(read.fault));
      if (!read.fault) {
        editor.act(rateSection(editor.draft, at, read.value), "the current of a bus section", {
          typing: `lineup.sections.${at}.rated_a`,
        });
      }
    },
  });
  box.append(words);
  return box;
}

function rangeFields(editor, section, place) {
  const { cells } = editor.draft;
  const range = rangeOf(editor.draft, section.name);
  const options = cells.map((cell, at) => [String(at), `cell ${cell.number}`]);
  const none = range ? [] : [["", "no cell yet"]];
  const set = (from, to) =>
    editor.act(setRange(editor.draft, section.name, from, to), `the cells on ${section.name}`);
  return [
    choiceField("From", range ? String(range.from) : "", [...none, ...options], {
      focus: `${place}.from`,
      changed: (from) => set(Number(from), range?.to ?? cells.length - 1),
    }),
    choiceField("To", range ? String(range.to) : "", [...none, ...options], {
      focus: `${place}.to`,
      changed: (to) => set(range?.from ?? Number(to), Number(to)),
    }),
  ];
}

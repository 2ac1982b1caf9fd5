// Begin a lineup: from a starting point, or from an empty floor.

import { h, replace } from "../field/dom.js";
import { button, choiceField, textField } from "./fields.js";
import { send, sentenceOf } from "./send.js";

/** Return the sheet in which a lineup is begun; *editor.start* holds its answers. */
export function startView(editor) {
  const { points } = editor.vocabulary;
  const box = h("div", { class: "stack-tight" });
  const questions = h("div");

  function choose(key) {
    editor.start = { ...editor.start, key };
    const point = points.find((one) => one.key === key);
    replace(questions, point && questionsOf(editor, point));
  }

  const choices = points.map((point) => {
    const id = `point-${point.key}`;
    const radio = h("input", {
      type: "radio",
      name: "point",
      id,
      value: point.key,
      checked: editor.start.key === point.key,
      "data-focus": id,
      onchange: () => choose(point.key),
    });
    return h(
      "label",
      { class: "choice", for: id },
      radio,
      h("span", null, h("span", { class: "strong" }, point.title), h("br"), h("span", { class: "detail" }, point.about)),
    );
  });
  choose(editor.start.key);
  box.append(
    h("h2", { id: "start-title", tabindex: -1 }, "Begin from a starting point"),
    h("fieldset", { class: "field" }, h("legend", null, "Which gear stands there"), choices),
    questions,
    h("p", { class: "actions" }, button(editor.draft.cells.length ? "Back to the lineup" : "Begin with an empty floor", () => editor.leaveStart(), { "data-focus": "start-empty" })),
  );
  return box;
}

function questionsOf(editor, point) {
  const rows = editor.vocabulary.gears[point.gear].rows;
  const answers = editor.start.answers;
  const faults = editor.start.faults;
  const field = (name) => ({
    focus: `start.${name}`,
    fault: faults[name],
    changed: (value) => {
      answers[name] = value;
    },
    onkeydown: (event) => event.key === "Enter" && layOut(),
  });
  answers.repeated ??= String(point.repeated.usual);
  const options = rows.map((row) => [row.key, `${row.words} · ${row.document}${row.recalled ? " (from memory)" : ""}`]);
  const rowsOffered = [["", "Choose a row of the published tables"], ...options];

  async function layOut() {
    const found = await send(editor.addresses.start, editor.token, { point: point.key, answers });
    if (found.draft) return editor.begin(found.draft, `laying out ${point.title}`);
    editor.start.faults = Object.fromEntries((found.faults ?? []).map((one) => [one.field, one.message]));
    if (found.status !== 422) editor.start.faults.name = sentenceOf(found);
    editor.focus = `start.${Object.keys(editor.start.faults)[0]}`;
    return editor.draw();
  }

  return [
    h(
      "div",
      { class: "plate-grid" },
      textField("Name of the lineup", answers.name ?? "", { ...field("name"), maxlength: 80 }),
      textField(point.repeated.label, answers.repeated, { ...field("repeated"), inputmode: "numeric" }),
      choiceField("Voltages on the lineup’s plate", answers.row ?? "", rowsOffered, {
        ...field("row"),
        wide: true,
      }),
      textField("Rated current of the bus, A", answers.rated_a ?? "", { ...field("rated_a"), inputmode: "decimal" }),
      textField("Before each tag, if anything", answers.prefix ?? "", { ...field("prefix"), maxlength: 20 }),
    ),
    h("p", { class: "small quiet" }, "Withstand voltages are those of the row that you choose. Maker, type and serial numbers stay empty: they stand on the gear."),
    h("p", { class: "actions" }, button("Lay it out", layOut, { class: "button button-main", "data-focus": "lay-out" })),
  ];
}

// Choose what a new cell is, by symbol and word.

import { h, s } from "../field/dom.js";
import { strokes } from "../elevation_parts.js";
import { button } from "./fields.js";
import { rove } from "./roving.js";

/** Return the pane in which a kind of cell is picked; *after*: key of the cell before it. */
export function kindPicker(editor) {
  const { vocabulary, draft } = editor;
  const { likely, symbols } = vocabulary.gears[draft.gear];
  const after = editor.adding;
  const beside = draft.cells.find((cell) => cell.key === after);
  const kinds = likely.map((kind) =>
    h(
      "button",
      {
        type: "button",
        class: "kind",
        "data-focus": `kind:${kind}`,
        onclick: () => editor.addCell(kind, after),
      },
      s(
        "svg",
        { class: "drawing", viewBox: "0 0 60 90", width: 40, height: 60, "aria-hidden": "true" },
        strokes(symbols[kind]),
      ),
      h("span", null, vocabulary.cells[kind].words),
    ),
  );
  return [
    h("h2", { id: "pane-title", tabindex: -1 }, "Add a cell"),
    h("p", { class: "quiet" }, beside ? `To the right of cell ${beside.number}. ` : "At the right end. ", "What is it?"),
    rove(h("div", { class: "kinds", role: "group", "aria-label": "Kind of cell" }, kinds)),
    h("p", { class: "actions" }, button("Add none", () => editor.leaveAdding(), { class: "button button-quiet" })),
  ];
}

// Copy the chosen cell so many times.

import { h } from "../field/dom.js";
import { cellOf } from "./draft.js";
import { button } from "./fields.js";

const MOST = 40;

/** Return the pane that asks how many copies of the chosen cell there are to be. */
export function copyCellView(editor) {
  const cell = cellOf(editor.draft, editor.chosen);
  const input = h("input", {
    id: "copies",
    type: "number",
    min: 1,
    max: MOST,
    value: 1,
    inputmode: "numeric",
    "data-focus": "copies",
    "aria-describedby": "copies-fault",
    onkeydown: (event) => event.key === "Enter" && copy(),
  });
  const fault = h("span", { class: "fault", id: "copies-fault", role: "status" });

  function copy() {
    const count = Number(input.value);
    if (!Number.isInteger(count) || count < 1 || count > MOST) {
      fault.textContent = `Write a whole number from 1 to ${MOST}.`;
      return input.focus();
    }
    return editor.copyCell(count);
  }

  return [
    h("h2", { id: "pane-title", tabindex: -1 }, ["Copy cell " + cell.number, cell.name].filter(Boolean).join(" · ")),
    h("p", { class: "quiet" }, "The copies stand to the right of it, with what is in it and its plates. Numbers, names and tags are counted up; serial numbers are not copied, the bus stands once."),
    h("div", { class: "field" }, h("label", { for: "copies" }, "How many copies"), input, fault),
    h(
      "p",
      { class: "actions" },
      button("Copy the cell", copy, { class: "button button-main" }),
      button("Copy none", () => editor.showCell(), { class: "button button-quiet" }),
    ),
  ];
}

// The sheets of the editor's page, drawn again after each operation.

import { h, replace } from "../field/dom.js";
import { cellView } from "./cell_view.js";
import { copyCellView } from "./copy_cell_view.js";
import { dragCells } from "./drag.js";
import { drawElevation } from "./elevation.js";
import { floorKeys, pageKeys } from "./keys.js";
import { kindPicker } from "./kind_picker.js";
import { lineupView } from "./lineup_view.js";
import { Remarks } from "./remarks_view.js";
import { serialsView } from "./serials_view.js";
import { startView } from "./start_view.js";

const PANES = {
  add: kindPicker,
  cell: cellView,
  copy: copyCellView,
  lineup: lineupView,
  serials: serialsView,
};
const OF_A_CELL = new Set(["cell", "copy"]);
const TABS = [
  ["cell", "Cell"],
  ["lineup", "Lineup and bus"],
  ["serials", "Serials"],
];

export class Sheets {
  constructor(editor) {
    this.editor = editor;
    this.cells = new Map(); // as they were drawn
    const part = (id) => document.getElementById(id);
    this.floor = part("floor");
    this.floorSheet = part("floor-sheet");
    this.start = part("start");
    this.pane = part("pane");
    this.notices = part("notices");
    this.tools = part("tools");
    this.said = part("said");
    this.title = part("lineup-title");
    this.remarks = new Remarks(editor, part("remarks"));
    dragCells(this.floor, () => editor.draft, (key, place) => editor.move(key, place));
    floorKeys(editor, this.floor);
    pageKeys(editor, this.pane);
  }

  /** Say what was done: it is shown below the drawing, and read out. */
  say(text) {
    this.said.textContent = text;
  }

  draw() {
    const { notice, starting } = this.editor;
    replace(this.notices, notice ? notice() : []);
    this.start.hidden = !starting;
    this.floorSheet.hidden = starting;
    this.pane.hidden = starting;
    replace(this.start, starting ? startView(this.editor) : []);
    this.drawFloor();
    this.drawPane();
    this.moveFocus();
  }

  drawFloor() {
    const { draft, chosen, faulty, history, vocabulary } = this.editor;
    const { scrollLeft } = this.floor;
    const drawing = drawElevation(draft, {
      chosen,
      symbols: vocabulary.gears[draft.gear].symbols,
      words: (kind) => vocabulary.cells[kind].words,
      faulty: new Set(faulty.map((one) => one.cell)),
      drawn: this.cells,
    });
    replace(this.floor, drawing);
    this.floor.scrollLeft = scrollLeft;
    this.title.textContent = draft.name || "New lineup";
    for (const one of this.tools.querySelectorAll("[data-needs-cell]")) one.disabled = !chosen;
    this.tools.querySelector("[data-tool=undo]").disabled = !history.past.length;
    this.tools.querySelector("[data-tool=redo]").disabled = !history.future.length;
    this.remarks.ask();
  }

  drawPane() {
    const { chosen, pane } = this.editor;
    const shown = OF_A_CELL.has(pane) && !chosen ? "lineup" : pane;
    const sheet = h(
      "section",
      { class: "sheet editor-pane", "aria-labelledby": "pane-title" },
      PANES[shown](this.editor),
    );
    replace(this.pane, this.tabs(shown), sheet);
  }

  tabs(shown) {
    const tabs = TABS.map(([key, words]) =>
      h(
        "button",
        {
          type: "button",
          "aria-pressed": String(shown === key),
          disabled: key === "cell" && !this.editor.chosen,
          "data-focus": `tab:${key}`,
          onclick: () => this.editor.show(key),
        },
        words,
      ),
    );
    return h("div", { class: "pane-tabs", role: "group", "aria-label": "What is shown" }, tabs);
  }

  /** After an operation the focus goes where the next one begins. */
  moveFocus() {
    const { focus } = this.editor;
    this.editor.focus = null;
    if (!focus) return;
    const target = document.querySelector(`[data-focus="${CSS.escape(focus)}"]`);
    if (!target) return;
    target.closest("details")?.setAttribute("open", "");
    target.focus({ preventScroll: true });
    if (target.select) target.select();
    target.scrollIntoView({ block: "nearest", inline: "nearest" });
  }

  goToNotice() {
    const first = this.notices.querySelector("[data-first]") ?? this.notices.firstElementChild;
    first?.focus();
    first?.scrollIntoView({ block: "nearest" });
  }
}

// What keys and taps do on the floor and on the page.

import { redo, undo } from "./history.js";
import { save } from "./saving.js";

const STEPS = { ArrowLeft: -1, ArrowRight: 1 };

/** Choose, move, add, copy and remove cells where they stand. */
export function floorKeys(editor, floor) {
  floor.addEventListener("click", (event) => {
    const cell = event.target.closest("[data-cell]");
    if (cell) editor.choose(cell.dataset.cell);
    else if (event.target.closest("[data-add]")) editor.askKind(editor.draft.cells.at(-1)?.key ?? null);
  });
  floor.addEventListener("keydown", (event) => {
    if (event.target.closest("[data-add]")) {
      if (!["Enter", " "].includes(event.key)) return;
      event.preventDefault();
      editor.askKind(editor.draft.cells.at(-1)?.key ?? null);
      return;
    }
    if (pressed(editor, event)) event.preventDefault();
  });
}

function pressed(editor, event) {
  const { key } = event;
  const held = event.ctrlKey || event.metaKey;
  if (key in STEPS) return stepped(editor, STEPS[key], held || event.altKey);
  if (held) return key.toLowerCase() === "d" && done(() => copies(editor));
  const acts = {
    Home: () => end(editor, 0),
    End: () => end(editor, -1),
    Enter: () => editor.showCell("name"),
    " ": () => editor.showCell("name"),
    Delete: () => editor.remove(),
    Backspace: () => editor.remove(),
    Insert: () => editor.askKind(),
    "+": () => editor.askKind(),
  };
  return key in acts && done(acts[key]);
}

function done(act) {
  act();
  return true;
}

function copies(editor) {
  editor.focus = "copies";
  editor.pane = "copy";
  editor.draw();
}

function stepped(editor, step, moving) {
  if (moving) return done(() => editor.moveBy(step));
  const { cells } = editor.draft;
  const at = cells.findIndex((cell) => cell.key === editor.chosen);
  const next = cells[at + step];
  return next ? done(() => editor.choose(next.key)) : true;
}

function end(editor, at) {
  const cell = editor.draft.cells.at(at);
  if (cell) editor.choose(cell.key);
}

/** The buttons of the page, and the keys that hold everywhere on it. */
export function pageKeys(editor, pane) {
  const tools = {
    add: () => editor.askKind(),
    copy: () => copies(editor),
    left: () => editor.moveBy(-1),
    right: () => editor.moveBy(1),
    remove: () => editor.remove(),
    undo: () => editor.travel(undo),
    redo: () => editor.travel(redo),
    start: () => editor.askStart(),
    save: () => save(editor),
  };
  document.addEventListener("click", (event) => {
    const tool = event.target.closest("[data-tool]");
    if (tool) tools[tool.dataset.tool]();
  });
  document.addEventListener("keydown", (event) => {
    const inPane = pane.contains(event.target);
    if (event.key === "Escape" && inPane && editor.chosen) return editor.showCell();
    if (!(event.ctrlKey || event.metaKey)) return undefined;
    const typing = event.target.matches("input:not([type=checkbox], [type=radio]), textarea");
    const key = event.key.toLowerCase();
    if (key === "s") return stop(event, tools.save);
    if (typing) return undefined;
    if (key === "z") return stop(event, event.shiftKey ? tools.redo : tools.undo);
    if (key === "y") return stop(event, tools.redo);
    return undefined;
  });
}

function stop(event, act) {
  event.preventDefault();
  act();
}

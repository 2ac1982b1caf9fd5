// The editor of a lineup: it holds what is entered, and lets the views draw it.

import vocabulary from "/setup/vocabulary.js";
import { h, replace } from "../field/dom.js";
import { addCell, copyCell, moveCell, removeCell } from "./cells.js";
import { cellView } from "./cell_view.js";
import { copyCellView } from "./copy_cell_view.js";
import { dragCells } from "./drag.js";
import { apparatusOf, bare, cellOf, keepable, opened, plain, placeOf } from "./draft.js";
import { drawElevation } from "./elevation.js";
import { placed, unread } from "./faults.js";
import { beginHistory, follow, redo, undo } from "./history.js";
import { KeptDraft } from "./keep_draft.js";
import { floorKeys, pageKeys } from "./keys.js";
import { kindPicker } from "./kind_picker.js";
import { lineupView } from "./lineup_view.js";
import { conflictNotice, faultNotice, keptNotice, reasonNotice, sentNotice } from "./notices.js";
import { readPlate } from "./read_plate.js";
import { Remarks } from "./remarks_view.js";
import { send } from "./send.js";
import { serialsView } from "./serials_view.js";
import { startView } from "./start_view.js";
import { learned } from "./tags.js";

const PANES = {
  add: kindPicker,
  cell: cellView,
  copy: copyCellView,
  lineup: lineupView,
  serials: serialsView,
};
const words = Object.fromEntries(Object.entries(vocabulary.cells).map(([kind, one]) => [kind, one.words]));

export class Editor {
  constructor(page) {
    const { draft, version, needsReason, ...rest } = JSON.parse(page.dataset.editor);
    Object.assign(this, {
      vocabulary,
      version,
      needsReason,
      addresses: rest.addresses,
      token: rest.token,
      stored: draft ? opened(draft) : null,
      chosen: null,
      apparatus: null,
      adding: null,
      pane: "lineup",
      focus: null,
      faults: new Map(),
      faulty: [],
      notice: null,
      reason: "",
      start: { key: "", answers: {}, faults: {} },
    });
    for (const id of ["floor", "floor-sheet", "start", "pane", "said", "notices", "tools"]) {
      this[id.replace("-s", "S")] = document.getElementById(id);
    }
    this.remarks = new Remarks(this, document.getElementById("remarks"));
    this.kept = new KeptDraft(rest.keep);
    this.open();
    dragCells(this.floor, () => this.draft, (key, place) => this.move(key, place));
    floorKeys(this);
    pageKeys(this);
    addEventListener("pagehide", () => this.kept.write());
  }

  get draft() {
    return this.history.now;
  }

  /** Begin with what is kept on this device, else with what is stored, else with nothing. */
  open() {
    const kept = this.kept.read();
    const first = this.stored ?? bare();
    this.history = beginHistory(kept ? opened(kept.draft) : first);
    this.starting = !this.stored && !this.draft.cells.length;
    if (kept) {
      this.version = kept.version;
      this.notice = keptNotice(this, kept.at);
    }
    this.chooseFirst();
    this.draw();
  }

  chooseFirst() {
    const [first] = this.draft.cells;
    this.chosen = first?.key ?? null;
    this.apparatus = first?.apparatus[0]?.key ?? null;
    this.pane = first ? "cell" : "lineup";
  }

  /**
   * Take an operation's draft. *words* say what was done, after "Undo" as well; *typing*
   * names the field that is typed into: then the pane is left as it is.
   */
  act(next, done, { typing = "", plate = "" } = {}) {
    this.history = follow(this.history, next, done, typing);
    if (typing) this.forget(plate || typing);
    else this.say(`Done: ${done}.`);
    this.settle();
    this.keep();
    if (typing) this.drawFloor();
    else this.draw();
  }

  /** A fault is over when somebody types at its place. */
  forget(place) {
    this.faults.delete(place);
    this.faulty = this.faulty.filter((one) => one.place !== place);
  }

  keep() {
    this.kept.keep(keepable(this.draft), this.version);
  }

  say(text) {
    this.said.textContent = text;
  }

  /** What was chosen may be gone. */
  settle() {
    const cell = cellOf(this.draft, this.chosen);
    if (!cell) return this.chooseFirst();
    const holds = cell.apparatus.some((one) => one.key === this.apparatus);
    if (!holds) this.apparatus = cell.apparatus[0]?.key ?? null;
    return undefined;
  }

  apparatusNow() {
    return apparatusOf(this.draft, this.apparatus);
  }

  choose(key, { stay = true } = {}) {
    const cell = cellOf(this.draft, key);
    const like = this.apparatusNow()?.kind;
    this.chosen = key;
    const held = cell.apparatus.find((one) => one.kind === like) ?? cell.apparatus[0];
    this.apparatus = held?.key ?? null;
    this.pane = this.pane === "serials" ? "serials" : "cell";
    if (stay) this.focus = `cell:${key}`;
    this.draw();
  }

  chooseApparatus(key) {
    this.apparatus = key;
    this.focus = `held:${key}`;
    this.draw();
  }

  /** Show the chosen cell's fields; the focus goes to *field* of it. */
  showCell(field = "") {
    this.pane = "cell";
    this.focus = field ? `${this.chosen}.${field}` : `cell:${this.chosen}`;
    this.draw();
  }

  show(pane) {
    this.pane = pane;
    this.draw();
    document.getElementById("pane-title")?.focus();
  }

  /** Ask what the new cell is; it will stand after the chosen one, or at the end. */
  askKind(after = this.chosen) {
    this.adding = after ?? this.draft.cells.at(-1)?.key ?? null;
    this.pane = "add";
    this.starting = false;
    const last = cellOf(this.draft, this.adding)?.kind;
    this.focus = `kind:${last ?? vocabulary.gears[this.draft.gear].likely[0]}`;
    this.draw();
  }

  leaveAdding() {
    this.chooseFirst();
    this.focus = this.chosen ? `cell:${this.chosen}` : "add";
    this.draw();
  }

  addCell(kind, after) {
    const holds = vocabulary.cells[kind].holds.map((one) => ({ ...one, label: learned(this.draft, one.kind, one.label) }));
    const next = addCell(this.draft, { kind, name: "", after, holds });
    const cell = cellOf(next, next.added);
    this.chosen = cell.key;
    this.apparatus = cell.apparatus.at(holds.length ? -holds.length : 0)?.key ?? null;
    this.pane = "cell";
    this.focus = `${cell.key}.name`;
    this.act(next, `adding cell ${cell.number}, ${words[kind]}`);
  }

  tagOf(kind) {
    return learned(this.draft, kind, vocabulary.kinds[kind].tag);
  }

  copyCell(count) {
    const { number } = cellOf(this.draft, this.chosen);
    const next = copyCell(this.draft, this.chosen, count);
    this.chosen = next.added;
    this.apparatus = null;
    this.pane = "cell";
    this.focus = `cell:${next.added}`;
    this.act(next, `copying cell ${number} ${count === 1 ? "once" : `${count} times`}`);
  }

  move(key, place) {
    const next = moveCell(this.draft, key, place);
    if (next === this.draft) return;
    this.chosen = key;
    this.focus = `cell:${key}`;
    const { number } = cellOf(next, key);
    this.act(next, `moving cell ${number} to place ${placeOf(next, key) + 1} of ${next.cells.length}`);
  }

  moveBy(step) {
    if (this.chosen) this.move(this.chosen, placeOf(this.draft, this.chosen) + step);
  }

  remove() {
    const cell = cellOf(this.draft, this.chosen);
    if (!cell) return;
    const at = placeOf(this.draft, cell.key);
    const next = removeCell(this.draft, cell.key);
    const beside = next.cells[Math.min(at, next.cells.length - 1)];
    this.chosen = beside?.key ?? null;
    this.focus = beside ? `cell:${beside.key}` : "add";
    this.act(next, `removing cell ${cell.number} · ${cell.name}`);
  }

  travel(step) {
    const before = this.history;
    this.history = step(this.history);
    if (this.history === before) return this.say(step === undo ? "There is nothing to undo." : "There is nothing to do again.");
    this.say(`${step === undo ? "Undone" : "Done again"}: ${this.history.said}.`);
    this.settle();
    this.keep();
    if (this.chosen) this.focus = `cell:${this.chosen}`;
    return this.draw();
  }

  /** Lay a whole draft on the floor, as one operation. */
  begin(draft, done) {
    this.starting = false;
    const next = { ...opened(draft), next: this.draft.next + 1000 };
    this.history = follow(this.history, next, done);
    this.chooseFirst();
    this.focus = this.chosen ? `cell:${this.chosen}` : "add";
    this.say(`Done: ${done}, ${draft.cells.length} cells.`);
    this.keep();
    this.draw();
  }

  askStart() {
    this.starting = true;
    this.draw();
    document.getElementById("start-title").focus();
  }

  leaveStart() {
    this.starting = false;
    this.focus = this.chosen ? `cell:${this.chosen}` : "lineup.name";
    this.draw();
  }

  dropKept() {
    this.kept.drop();
    this.notice = null;
    this.history = follow(this.history, this.stored ?? bare(), "dropping the unsaved draft");
    this.starting = !this.stored;
    this.chooseFirst();
    this.say("The unsaved draft is dropped; Undo brings it back.");
    this.draw();
  }

  async save({ over = false } = {}) {
    const faulty = unread(this.draft, (name, text) => readPlate(vocabulary.fields[name], text, this.draft.ratings.rated_hz).fault ?? "cannot be read.");
    if (faulty.length) return this.showFaults(faulty);
    if (this.saving) return undefined;
    this.saving = true;
    this.kept.write();
    this.say("Saving …");
    const body = { draft: plain(this.draft), seen_version: this.version, reason: this.reason };
    const answer = await send(this.addresses.save, this.token, over ? { ...body, seen_version: over } : body);
    this.saving = false;
    return this.take(answer);
  }

  take(answer) {
    if (answer.location) {
      this.kept.drop();
      location.assign(answer.location);
      return undefined;
    }
    if (answer.status === 422) {
      if (answer.faults.some((one) => one.field === "reason")) return this.tell(reasonNotice(this, answer.faults));
      return this.showFaults(placed(this.draft, answer.faults));
    }
    if (answer.status === 409 && answer.theirs) return this.tell(conflictNotice(this, answer));
    return this.tell(sentNotice(answer));
  }

  tell(notice) {
    this.notice = notice;
    this.say("");
    this.draw();
    const first = this.notices.querySelector("[data-first]") ?? this.notices.firstElementChild;
    first?.focus();
    first?.scrollIntoView({ block: "nearest" });
  }

  showFaults(faulty) {
    this.faulty = faulty;
    this.faults = new Map(faulty.map((one) => [one.place, one.message]));
    this.notice = faultNotice(this, faulty);
    this.goTo(faulty[0]);
  }

  /** Go to the field of a fault. */
  goTo({ place, cell, apparatus }) {
    this.starting = false;
    if (cell) {
      this.chosen = cell;
      this.apparatus = apparatus ?? this.apparatus;
    }
    this.pane = cell ? "cell" : "lineup";
    this.focus = place;
    this.draw();
  }

  draw() {
    this.drawNotices();
    this.drawStart();
    this.drawFloor();
    this.drawPane();
    this.moveFocus();
  }

  drawNotices() {
    replace(this.notices, this.notice ? this.notice() : []);
  }

  drawStart() {
    this.start_ ??= document.getElementById("start");
    this.start_.hidden = !this.starting;
    this.floorSheet.hidden = this.starting;
    if (this.starting) replace(this.start_, startView(this));
    else this.start_.replaceChildren();
  }

  drawFloor() {
    const { draft } = this;
    const faulty = new Set(this.faulty.map((one) => one.cell));
    const { symbols } = vocabulary.gears[draft.gear];
    const { scrollLeft } = this.floor;
    replace(this.floor, drawElevation(draft, { chosen: this.chosen, symbols, words, faulty }));
    this.floor.scrollLeft = scrollLeft;
    document.getElementById("lineup-title").textContent = draft.name || "New lineup";
    for (const one of this.tools.querySelectorAll("[data-needs-cell]")) one.disabled = !this.chosen;
    this.tools.querySelector("[data-tool=undo]").disabled = !this.history.past.length;
    this.tools.querySelector("[data-tool=redo]").disabled = !this.history.future.length;
    this.remarks.ask();
  }

  drawPane() {
    const cell = this.chosen && PANES[this.pane] !== lineupView;
    const pane = cell || ["add", "lineup", "serials"].includes(this.pane) ? this.pane : "lineup";
    replace(this.pane_ ?? (this.pane_ = document.getElementById("pane")), [
      this.tabs(pane),
      h("section", { class: "sheet editor-pane", "aria-labelledby": "pane-title" }, PANES[pane](this)),
    ]);
  }

  tabs(pane) {
    const tabs = [["cell", "Cell"], ["lineup", "Lineup and bus"], ["serials", "Serials"]];
    return h(
      "div",
      { class: "pane-tabs", role: "group", "aria-label": "What is shown" },
      tabs.map(([key, said]) =>
        h(
          "button",
          {
            type: "button",
            "aria-pressed": String(pane === key),
            disabled: key === "cell" && !this.chosen,
            "data-focus": `tab:${key}`,
            onclick: () => this.show(key),
          },
          said,
        ),
      ),
    );
  }

  /** After an operation the focus goes where the next one begins. */
  moveFocus() {
    if (!this.focus) return;
    const target = document.querySelector(`[data-focus="${CSS.escape(this.focus)}"], [data-${this.focus === "add" ? "add" : "none"}]`);
    this.focus = null;
    target?.closest("details")?.setAttribute("open", "");
    target?.focus({ preventScroll: true });
    if (target?.select) target.select();
    target?.scrollIntoView({ block: "nearest", inline: "nearest" });
  }
}

// The editor of a lineup: it holds what is entered, and lets the views draw it.

import vocabulary from "/setup/vocabulary.js";
import { addCell, copyCell, moveCell, removeCell } from "./cells.js";
import { apparatusOf, bare, cellOf, keepable, opened, placeOf } from "./draft.js";
import { beginHistory, follow, undo } from "./history.js";
import { KeptDraft } from "./keep_draft.js";
import { keptNotice } from "./notices.js";
import { BUS } from "./sections.js";
import { Sheets } from "./sheets.js";
import { learned } from "./tags.js";

/** What stands in a cell before all: the bus runs through it. */
function main({ apparatus }) {
  return apparatus.find((one) => one.kind !== BUS) ?? apparatus[0];
}

export class Editor {
  constructor(page) {
    const { draft, version, ...rest } = JSON.parse(page.dataset.editor);
    Object.assign(this, {
      vocabulary,
      version,
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
    this.sheets = new Sheets(this);
    this.kept = new KeptDraft(rest.keep);
    this.open();
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
    this.apparatus = first ? main(first)?.key : null;
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
    if (typing) this.sheets.drawFloor();
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
    this.sheets.say(text);
  }

  /** What was chosen may be gone. */
  settle() {
    const cell = cellOf(this.draft, this.chosen);
    if (!cell) return this.chooseFirst();
    const holds = cell.apparatus.some((one) => one.key === this.apparatus);
    if (!holds) this.apparatus = main(cell)?.key ?? null;
    return undefined;
  }

  apparatusNow() {
    return apparatusOf(this.draft, this.apparatus);
  }

  choose(key, { stay = true } = {}) {
    const cell = cellOf(this.draft, key);
    const like = this.apparatusNow()?.kind;
    this.chosen = key;
    const held = cell.apparatus.find((one) => one.kind === like) ?? main(cell);
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
    document.getElementById("pane-title").focus();
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
    this.apparatus = main(cell)?.key ?? null;
    this.pane = "cell";
    this.focus = `${cell.key}.name`;
    this.act(next, `adding cell ${cell.number}, ${vocabulary.cells[kind].words}`);
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
    this.act(next, `copying cell ${number}${count === 1 ? "" : `, ${count} times`}`);
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
    this.act(next, ["removing cell " + cell.number, cell.name].filter(Boolean).join(" · "));
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

  tell(notice) {
    this.notice = notice;
    this.say("");
    this.draw();
    this.sheets.goToNotice();
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
    this.sheets.draw();
  }

  drawPane() {
    this.sheets.drawPane();
  }
}

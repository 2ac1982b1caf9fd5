// The rows of readings of a point on its card: cells, clock, curve, and what they say.

import { inSentence, readsRow, saidUnit } from "/offline/reader.js";
import { conditionsNow } from "./conditions.js";
import { h, replace } from "./dom.js";
import { inputMode } from "./keypad.js";
import { readMarks } from "./mark_fields.js";
import { isTable, pastedRows } from "./pasted_rows.js";
import { linesOf, RowSide } from "./row_side.js";
import { baselineRow, quotientList, stepWords } from "./row_words.js";
import { blankRows, kindsFor, quotients, readRows, readText, rowText } from "./series.js";
import { seriesCurve, timeWords } from "./series_curve.js";
import { Stopwatch } from "./stopwatch.js";

const READING_AT = 60; // s: the reading that is judged is that after one minute
const FIRST_CELLS = 4; // the first minute; the rest is unfolded

/** What a card shows of rows; *points* is its grid. */
export class SeriesPart {
  constructor(points) {
    this.points = points;
    this.shown = new Map();
    this.unfolded = points.ui.unfolded ??= new Map();
    this.pasted = new Map(); // what was said of what was pasted, by point and kind
  }

  kinds() {
    const { store, card, procedure } = this.points;
    return kindsFor(procedure, conditionsNow(store, card).conditions);
  }

  /** The part of a point that is being entered. */
  entry(point) {
    if (!this.points.procedure.series.length) return null;
    const node = h("div", { class: "point-series" });
    this.shown.set(point.id, { node, benches: [] });
    this.redraw(point);
    return node;
  }

  redraw(point) {
    const found = this.shown.get(point.id);
    found.offered = this.offered(point);
    found.benches = this.kinds().filter((kind) => this.open(point, kind)).map((kind) => this.bench(point, kind));
    found.openers = h("div", { class: "actions" }, this.kinds().map((kind) => this.opener(point, kind)));
    replace(found.node, found.openers, found.benches.map(({ node }) => node));
    this.refresh(point);
  }

  /** What is typed changed, or the point that one is at. */
  refresh(point) {
    const found = this.shown.get(point.id);
    if (!found) return;
    if (found.offered !== this.offered(point)) return this.redraw(point);
    const here = this.points.active() === point || found.benches.length > 0;
    found.openers.hidden = !here;
    found.node.hidden = !here;
    for (const { show } of found.benches) show();
  }

  /** What a point offers before anything is typed in it: the rows that lie open, and their steps. */
  offered(point) {
    const kinds = this.kinds().filter((kind) => this.open(point, kind));
    return JSON.stringify(kinds.map((kind) => [kind.name, this.typedRows(point, kind) ? null : this.rows(point, kind)]));
  }

  /** What the point is sent with: the rows that can be read, and marks that were set on them. */
  conditions(point) {
    const given = { ...this.marks(point).conditions };
    for (const kind of this.kinds()) {
      const { steps, faults } = readRows(this.rows(point, kind), kind);
      if (steps.length && !faults.size) given[kind.name] = rowText(steps);
    }
    return given;
  }

  marks(point) {
    return readMarks(this.points.procedure, this.kinds(), this.points.draft.of(point)?.marks);
  }

  /** What stands in the way of recording the point. */
  faults(point, text) {
    const marks = Object.values(this.marks(point).faults);
    return [...marks, ...this.rowFaults(point, text)];
  }

  rowFaults(point, text) {
    return this.kinds().flatMap((kind) => {
      const { steps, faults } = readRows(this.rows(point, kind), kind);
      const name = inSentence(kind.title);
      if (faults.size) return [`Look at the ${name}: ${[...faults.values()][0]}`];
      const minute = kind.name === "timed" && steps.find(({ at }) => at === READING_AT);
      if (!minute || minute.text === text || Number(minute.text) === Number(text)) return [];
      return [`After 60 s it is ${minute.text}, and the reading says ${text}: they are one reading.`];
    });
  }

  /** A recorded reading's rows, to be unfolded. */
  recorded(point, reading) {
    return this.points.procedure.series
      .filter(({ name }) => reading.conditions[name])
      .map((kind) => this.record(point, kind, reading));
  }

  record(point, kind, reading) {
    const steps = readText(reading.conditions[kind.name], kind);
    const unit = kind.unit || reading.unit;
    const found = quotients(kind, steps, reading.conditions);
    const key = `${point.id}:${kind.name}:recorded`;
    return h(
      "details",
      {
        class: "point-series recorded-series",
        open: this.unfolded.get(key) ?? false,
        ontoggle: (event) => this.unfolded.set(key, event.target.open),
      },
      h("summary", {}, kind.title, found.map(([label, shown]) => ` · ${inSentence(label.split(",")[0])} ${shown}`)),
      h(
        "div",
        { class: "row-body" },
        h(
          "dl",
          { class: "steps-read" },
          steps.map(({ at, text }) =>
            h("div", {}, h("dt", {}, stepWords(kind, at)), h("dd", {}, `${text} ${saidUnit(unit)}`)),
          ),
        ),
        h("div", { class: "bench-side" }, seriesCurve(kind, steps, unit, baselineRow(point, kind, unit), linesOf(this.rule(point), kind, steps, { ...point.given, ...reading.conditions })), quotientList(found, quotients(kind, baselineRow(point, kind))), h("p", { class: "small quiet" }, kind.note)),
      ),
    );
  }

  rows(point, kind) {
    return this.typedRows(point, kind) ?? blankRows(kind, kind.share_of ? this.asRead(point) : {});
  }

  typedRows(point, kind) {
    return this.points.draft.of(point)?.series?.[kind.name];
  }

  /** The conditions of a reading here, less its rows. */
  asRead(point) {
    const { conditions } = conditionsNow(this.points.store, this.points.card, point);
    return { ...point.given, ...conditions, ...this.marks(point).conditions };
  }

  setRows(point, kind, rows) {
    const series = { ...this.points.draft.of(point)?.series, [kind.name]: rows };
    this.points.draft.set(point, { series });
  }

  /** Whether a row lies open: once it did, else where its value is read off it and one is there. */
  open(point, kind) {
    const key = `${point.id}:${kind.name}`;
    const typed = this.typedRows(point, kind)?.some(([, text]) => text.trim());
    const wanted = this.points.active() === point && readsRow(this.rule(point), kind.name, this.asRead(point));
    if (wanted && !this.unfolded.has(key)) this.unfolded.set(key, true);
    return this.unfolded.get(key) ?? Boolean(typed);
  }

  opener(point, kind) {
    const open = this.open(point, kind);
    return h(
      "button",
      {
        type: "button",
        class: "button button-quiet series-opener",
        "data-focus": `series-${point.id}-${kind.name}`,
        "aria-expanded": String(open),
        onclick: () => {
          this.unfolded.set(`${point.id}:${kind.name}`, !open);
          this.redraw(point);
        },
      },
      h("span", { class: "fold", "aria-hidden": "true" }, open ? "−" : "+"),
      kind.title,
      h("span", { class: "out-of-sight" }, ` at ${point.label}`),
    );
  }

  bench(point, kind) {
    const cells = this.cells(point, kind);
    const side = new RowSide(this.points, point, kind);
    const unit = h("span", { class: "quiet" });
    const show = () => {
      const { steps, faults } = readRows(this.rows(point, kind), kind);
      cells.forEach((cell, index) => cell.fault(faults.get(index)));
      side.show(steps, faults.size > 0, { ...this.asRead(point), [kind.name]: rowText(steps) });
      unit.textContent = kind.step_unit === "s" ? ` in ${saidUnit(this.unit(point, kind))}` : "";
    };
    const node = h(
      "section",
      { class: "bench", "aria-label": `${kind.title} at ${point.label}` },
      h("div", { class: "bench-head" }, h("p", {}, h("span", { class: "strong" }, kind.title), unit), this.clock(point, kind, cells)),
      h(
        "div",
        { class: "bench-body" },
        h("div", {}, this.columns(point, kind), h("div", { class: `cells cells-${kind.usual.length && kind.step_unit === "s" ? "timed" : "steps"}` }, cells.map((cell) => cell.node)), this.more(point, kind), this.pasteWords(point, kind)),
        side.node,
      ),
    );
    return { node, show };
  }

  /** What stands in the two columns of the cells. */
  columns(point, kind) {
    if (kind.step_unit === "s") return null;
    const [step, value] = [`${kind.step_label}, ${kind.step_unit}`, `${kind.label}, ${saidUnit(this.unit(point, kind))}`];
    return h("p", { class: "cell-columns small", "aria-hidden": "true" }, h("span", {}, step), h("span", {}, value));
  }

  unit(point, kind) {
    return kind.unit || this.points.draft.unitOf(point);
  }

  rule(point) {
    return this.points.store.doc.rules[point.rule_id];
  }

  /** How a table is pasted, and what was said of the last one. */
  pasteWords(point, kind) {
    if (kind.step_unit === "s") return null;
    const said = this.pasted.get(`${point.id}:${kind.name}`);
    const { fault = false, words } = said ?? { words: `Or paste two columns, ${kind.step_unit} and ${saidUnit(this.unit(point, kind))}, into a cell.` };
    return h("p", { class: fault ? "fault small" : "small quiet", role: "status" }, words);
  }

  /** A table fills the row; one that cannot be read says why and changes nothing. */
  paste(point, kind, event) {
    const text = event.clipboardData.getData("text");
    if (!isTable(text)) return;
    event.preventDefault();
    const key = `${point.id}:${kind.name}`;
    try {
      const { rows, turned } = pastedRows(text, kind);
      this.setRows(point, kind, rows);
      this.pasted.set(key, { words: `${rows.length} lines pasted${turned ? ", turned round so that the steps rise" : ""}.` });
    } catch (error) {
      this.pasted.set(key, { words: error.message, fault: true });
    }
    this.redraw(point);
    this.points.judge();
    document.querySelector(`[data-focus="cell-${key.replace(":", "-")}-0-0"]`)?.focus();
  }

  clock(point, kind, cells) {
    if (kind.step_unit !== "s") return null;
    const watch = new Stopwatch({
      begun: this.points.draft.of(point)?.clock,
      keep: (clock) => this.points.draft.set(point, { clock }),
      marks: () => this.rows(point, kind).map(([at, text]) => ({ at: Number(at), done: Boolean(text.trim()) })),
      due: (index) => {
        if (index >= cells.length) return this.unfold(point, kind);
        return cells.forEach((cell, at) => cell.due(at === index));
      },
    });
    return watch.node;
  }

  unfold(point, kind) {
    this.unfolded.set(`${point.id}:${kind.name}:more`, true);
    this.redraw(point);
  }

  cells(point, kind) {
    const rows = this.rows(point, kind);
    const folded = kind.step_unit === "s" && !this.unfolded.get(`${point.id}:${kind.name}:more`);
    const kept = folded && !rows.slice(FIRST_CELLS).some(([, text]) => text.trim()) ? rows.slice(0, FIRST_CELLS) : rows;
    return kept.map((row, index) => (kind.step_unit === "s" ? this.timedCell(point, kind, index) : this.stepCell(point, kind, index)));
  }

  /** The button that shows further cells. */
  more(point, kind) {
    const timed = kind.step_unit === "s";
    const rows = this.rows(point, kind);
    if (timed && (this.unfolded.get(`${point.id}:${kind.name}:more`) || rows.slice(FIRST_CELLS).some(([, text]) => text.trim()))) return null;
    return h(
      "button",
      {
        type: "button",
        class: "button button-quiet",
        "data-focus": `more-${point.id}-${kind.name}`,
        onclick: () => {
          if (timed) return this.unfold(point, kind);
          this.setRows(point, kind, [...rows, ["", ""]]);
          return this.redraw(point);
        },
      },
      timed ? "Go on to ten minutes" : "Add a step",
    );
  }

  timedCell(point, kind, index) {
    const said = timeWords(Number(this.rows(point, kind)[index][0]));
    const value = this.field(point, kind, index, 1, `Reading after ${said} at ${point.label}`);
    return cell(h("span", { class: "cell-at" }, said), [value], index);
  }

  stepCell(point, kind, index) {
    const step = this.field(point, kind, index, 0, `${kind.step_label} of step ${index + 1} at ${point.label}, ${kind.step_unit}`);
    const value = this.field(point, kind, index, 1, `${kind.label} at step ${index + 1} at ${point.label}`);
    return cell(null, [step, value], index);
  }

  field(point, kind, index, column, label) {
    return h("input", {
      type: "text",
      inputmode: inputMode(),
      autocomplete: "off",
      autocapitalize: "off",
      class: column ? "cell-value" : "cell-step",
      "data-focus": `cell-${point.id}-${kind.name}-${index}-${column}`,
      "aria-label": label,
      placeholder: "–",
      value: this.rows(point, kind)[index][column],
      onfocus: () => this.points.activate(point),
      oninput: (event) => this.type(point, kind, index, column, event.target.value),
      onkeydown: (event) => event.key === "Enter" && nextField(event.target),
      onpaste: (event) => kind.step_unit !== "s" && this.paste(point, kind, event),
    });
  }

  type(point, kind, index, column, text) {
    const rows = this.rows(point, kind).map((row) => [...row]);
    rows[index][column] = text;
    this.setRows(point, kind, rows);
    if (kind.name === "timed" && Number(rows[index][0]) === READING_AT) this.points.fill(point, text.trim());
    this.points.judge();
    this.points.ui.activeChanged?.();
  }
}

function cell(head, fields, index) {
  const fault = h("span", { class: "fault small", hidden: true });
  const node = h("div", { class: "cell" }, head, h("div", { class: "cell-fields" }, fields), fault);
  return {
    node,
    index,
    fault: (said) => {
      fault.textContent = said ?? "";
      fault.hidden = !said;
    },
    due: (is) => {
      const come = is && !node.classList.contains("cell-due");
      node.classList.toggle("cell-due", is);
      if (come) toMoment(node);
    },
  };
}

/** The field of the moment takes the focus, unless a value is being typed elsewhere. */
function toMoment(node) {
  const at = document.activeElement;
  const elsewhere = at?.matches("input, textarea, select") && !node.closest(".bench").contains(at);
  if (elsewhere && at.value) return;
  [...node.querySelectorAll("input")].at(-1)?.focus({ preventScroll: true });
}

function nextField(field) {
  const fields = [...field.closest(".bench").querySelectorAll("input")];
  fields[fields.indexOf(field) + 1]?.focus();
}

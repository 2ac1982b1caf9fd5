// The rows of readings of a point on its card: cells, clock, curve, and what they say.

import { convert, figure, inSentence, marksOfRow, offeredBy, plain, rowLines, saidUnit } from "/offline/reader.js";
import { conditionsNow } from "./conditions.js";
import { h, replace } from "./dom.js";
import { inputMode } from "./keypad.js";
import { isTable, pastedRows } from "./pasted_rows.js";
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
    found.benches = this.kinds().filter((kind) => this.open(point, kind)).map((kind) => this.bench(point, kind));
    found.openers = h("div", { class: "actions" }, this.kinds().map((kind) => this.opener(point, kind)));
    replace(found.node, found.openers, found.benches.map(({ node }) => node));
    this.refresh(point);
  }

  /** What is typed changed, or the point that one is at. */
  refresh(point) {
    const found = this.shown.get(point.id);
    if (!found) return;
    const here = this.points.active() === point || found.benches.length > 0;
    found.openers.hidden = !here;
    found.node.hidden = !here;
    for (const { show } of found.benches) show();
  }

  /** What the point is sent with: the rows that can be read. */
  conditions(point) {
    const given = {};
    for (const kind of this.kinds()) {
      const { steps, faults } = readRows(this.rows(point, kind), kind);
      if (steps.length && !faults.size) given[kind.name] = rowText(steps);
    }
    return given;
  }

  /** What stands in the way of recording the point. */
  faults(point, text) {
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
    const found = quotients(kind, steps);
    const key = `${point.id}:${kind.name}:recorded`;
    return h(
      "details",
      {
        class: "point-series recorded-series",
        open: this.unfolded.get(key) ?? false,
        ontoggle: (event) => this.unfolded.set(key, event.target.open),
      },
      h("summary", {}, kind.title, found.map(([label, shown]) => ` · ${label.split(",")[0].toLowerCase()} ${shown}`)),
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
        h("div", { class: "bench-side" }, seriesCurve(kind, steps, unit, baselineRow(point, kind, unit), this.lines(point, kind, steps, reading.conditions)), quotientList(found, quotients(kind, baselineRow(point, kind))), h("p", { class: "small quiet" }, kind.note)),
      ),
    );
  }

  rows(point, kind) {
    return this.points.draft.of(point)?.series?.[kind.name] ?? blankRows(kind);
  }

  setRows(point, kind, rows) {
    const series = { ...this.points.draft.of(point)?.series, [kind.name]: rows };
    this.points.draft.set(point, { series });
  }

  open(point, kind) {
    const typed = this.rows(point, kind).some(([, text]) => text.trim());
    return this.unfolded.get(`${point.id}:${kind.name}`) ?? typed;
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
    const curve = h("div", { class: "bench-curve" });
    const unit = h("span", { class: "quiet" });
    const said = h("div", { "aria-live": "polite" });
    const offer = h("div");
    const side = h("div", { class: "bench-side" }, curve, offer, said, h("p", { class: "small quiet" }, kind.note));
    const show = () => {
      const { steps, faults } = readRows(this.rows(point, kind), kind);
      const now = kind.unit || this.points.draft.unitOf(point);
      cells.forEach((cell, index) => cell.fault(faults.get(index)));
      const own = { ...conditionsNow(this.points.store, this.points.card).conditions, [kind.name]: rowText(steps) };
      replace(curve, seriesCurve(kind, steps, now, baselineRow(point, kind, now), this.lines(point, kind, steps, own)));
      replace(offer, faults.size ? null : this.offer(point, kind, own));
      replace(said, quotientList(quotients(kind, steps), quotients(kind, baselineRow(point, kind))));
      unit.textContent = ` in ${saidUnit(now)}`;
    };
    const node = h(
      "section",
      { class: "bench", "aria-label": `${kind.title} at ${point.label}` },
      h("div", { class: "bench-head" }, h("p", {}, h("span", { class: "strong" }, kind.title), unit), this.clock(point, kind, cells)),
      h(
        "div",
        { class: "bench-body" },
        h("div", {}, h("div", { class: `cells cells-${kind.usual.length && kind.step_unit === "s" ? "timed" : "steps"}` }, cells.map((cell) => cell.node)), this.more(point, kind), this.pasteWords(point, kind)),
        side,
      ),
    );
    return { node, show };
  }

  /** What is drawn across a row: the marks of a record, and what the rule reads off it. */
  lines(point, kind, steps, conditions) {
    const { marks, band } = rowLines(this.rule(point), kind.name, steps, { ...point.given, ...conditions });
    return { marks: { ...marksOfRow(kind.name, steps), ...marks }, band };
  }

  rule(point) {
    return this.points.store.doc.rules[point.rule_id];
  }

  /** The value that the row gives, taken by one tap; null where it gives none, or it stands there. */
  offer(point, kind, conditions) {
    const found = offeredBy(this.rule(point), { ...point.given, ...conditions });
    if (!found) return null;
    const unit = this.points.draft.unitOf(point);
    const text = figure(convert(found.value, found.unit, unit));
    if (this.points.draft.textOf(point) === text) return null;
    return h(
      "button",
      {
        type: "button",
        class: "button",
        "data-focus": `offer-${point.id}-${kind.name}`,
        onclick: () => {
          this.points.fill(point, text);
          this.points.judge();
          this.points.ui.activeChanged?.();
        },
      },
      `Take ${text} ${saidUnit(unit)} from the curve`,
    );
  }

  /** How a table is pasted, and what was said of the last one. */
  pasteWords(point, kind) {
    if (kind.step_unit === "s") return null;
    const said = this.pasted.get(`${point.id}:${kind.name}`);
    const { fault = false, words } = said ?? { words: `Or paste two columns, ${kind.step_unit} and ${saidUnit(kind.unit || this.points.draft.unitOf(point))}, into a cell.` };
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
    return cell(null, [step, h("span", { class: "unit" }, kind.step_unit), value], index);
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

/** The steps of the baseline's row; in *unit* only, where one is given. */
function baselineRow(point, kind, unit) {
  const text = point.baseline?.rows?.[kind.name];
  if (!text || (unit && unit !== (kind.unit || point.baseline.unit))) return [];
  return readText(text, kind);
}

/** What a row comes to, and what that was in the baseline. */
function quotientList(found, baseline) {
  if (!found.length) return null;
  const then = new Map(baseline);
  const item = ([label, shown]) =>
    h(
      "div",
      {},
      h("dt", {}, label, then.has(label) && h("span", { class: "small quiet" }, ` baseline ${then.get(label)}`)),
      h("dd", {}, shown),
    );
  return h("dl", { class: "quotients" }, found.map(item));
}

function stepWords(kind, at) {
  return kind.step_unit === "s" ? timeWords(at) : `${plain(at)} ${kind.step_unit}`;
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

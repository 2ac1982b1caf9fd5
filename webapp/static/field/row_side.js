// What stands beside the cells of a row: its curve, marks, value, and what it comes to or lacks.

import { convert, figure, marksInForce, marksOfRow, offeredBy, rowLines, rowReasons, saidUnit } from "/offline/reader.js";
import { h, replace } from "./dom.js";
import { MarkFields } from "./mark_fields.js";
import { baselineRow, quotientList } from "./row_words.js";
import { quotients } from "./series.js";
import { seriesCurve } from "./series_curve.js";

/** The side of one row at one point; *points* is the grid that both belong to. */
export class RowSide {
  constructor(points, point, kind) {
    Object.assign(this, { points, point, kind });
    this.curve = h("div", { class: "bench-curve" });
    this.offered = h("div");
    this.lacks = h("div", { class: "row-lacks", "aria-live": "polite" });
    this.said = h("div", { "aria-live": "polite" });
    this.marks = new MarkFields({
      point,
      kind,
      procedure: points.procedure,
      typed: () => points.draft.of(point)?.marks ?? {},
      keep: (marks) => {
        points.draft.set(point, { marks });
        points.judge();
      },
    });
    this.node = h("div", { class: "bench-side" }, this.curve, this.marks.node, this.offered, this.lacks, this.said, h("p", { class: "small quiet" }, kind.note));
  }

  /** Draw the *steps* that can be read; *conditions* are those of the reading, the row among them. */
  show(steps, faulty, conditions) {
    const { kind, point } = this;
    const unit = kind.unit || this.points.draft.unitOf(point);
    const own = { ...point.given, ...conditions };
    const tap = this.marks.node && ((at) => this.marks.place(at));
    replace(this.curve, seriesCurve(kind, steps, unit, baselineRow(point, kind, unit), linesOf(this.rule(), kind, steps, own), tap) ?? emptyWords(kind));
    if (this.marks.node) this.marks.node.hidden = steps.length < 2;
    this.marks.show(marksOfRow(kind.name, steps));
    replace(this.offered, faulty ? null : this.offer(own));
    replace(this.lacks, steps.length && !faulty ? this.reasons(own) : null);
    replace(this.said, this.marks.node ? null : quotientList(quotients(kind, steps), quotients(kind, baselineRow(point, kind))));
  }

  rule() {
    return this.points.store.doc.rules[this.point.rule_id];
  }

  /** Why nothing can be read off the row yet: as the working of the verdict says it. */
  reasons(conditions) {
    const said = rowReasons(this.rule(), this.kind.name, conditions, this.points.store.doc.procedures);
    return said.map((reason) => h("p", { class: "small" }, reason));
  }

  /** The value that the row gives, taken by one tap; null where it gives none, or it stands there. */
  offer(conditions) {
    const { points, point, kind } = this;
    const found = offeredBy(this.rule(), conditions);
    if (!found) return null;
    const unit = points.draft.unitOf(point);
    const text = figure(convert(found.value, found.unit, unit));
    if (points.draft.textOf(point) === text) return null;
    return h(
      "button",
      {
        type: "button",
        class: "button",
        "data-focus": `offer-${point.id}-${kind.name}`,
        onclick: () => {
          points.fill(point, text);
          points.judge();
          points.ui.activeChanged?.();
        },
      },
      `Take ${text} ${saidUnit(unit)} from the curve`,
    );
  }
}

/** What is drawn across a row: the marks of a record, and what the rule reads off it. */
export function linesOf(rule, kind, steps, conditions) {
  const { marks, band } = rowLines(rule, kind.name, steps, conditions);
  return { marks: { ...marksInForce(marksOfRow(kind.name, steps), conditions), ...marks }, band };
}

/** Where the curve will stand: what is entered first, and what next. */
function emptyWords({ begin, title }) {
  return h("p", { class: "curve-empty" }, h("span", { class: "strong" }, `${title}: `), begin);
}

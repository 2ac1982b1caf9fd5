// The grid of points: typed value, limit strip, verdict and working, then recorded.

import { saidUnit } from "/offline/reader.js";
import { secondReading } from "./came_back/second_reading.js";
import { appliedWords } from "./both_bases.js";
import { characteristic } from "./characteristic.js";
import { conditionsNow } from "./conditions.js";
import { timeCurrent } from "./curve.js";
import { dial } from "./dial.js";
import { h, replace } from "./dom.js";
import { Draft } from "./draft.js";
import { deficiencyAt } from "./findings.js";
import { againLater, entry } from "./point_entry.js";
import { explain, opened, verdictCell } from "./point_verdict.js";
import { baselineWords, changeWords, shortReason, together, typedWords } from "./point_words.js";
import { judgeTyped } from "./preview.js";
import { blankAsks, entryOf, nextAfter } from "./recording.js";
import { SeriesPart } from "./series_part.js";
import { limitStrip, wanted, wantedCites } from "./strip.js";
import { readWords, sourceNotes } from "./wire_choice.js";
import { recalled, restsOnMemory, siteTime } from "./words.js";

/** The grid; it redraws its verdicts while one types, and itself when told to. */
export class Points {
  constructor(store, card, ui, toRaise, closed = false) {
    Object.assign(this, { store, card, ui, toRaise });
    this.draft = new Draft(store, card, closed);
    this.procedure = this.draft.procedure;
    this.held = this.draft.held;
    this.rows = new Map();
    this.series = new SeriesPart(this);
    this.curve = h("div", { class: "curve-frame", hidden: true });
    this.live = h("p", { class: "out-of-sight", "aria-live": "polite" });
  }

  draw() {
    const rows = this.card.points.map((point) => this.row(point));
    const node = h(
      "section",
      { class: "points", "aria-label": "Readings" },
      this.draft.closed && this.toRead() && h("p", { class: "points-closed-head" }, h("span", { class: "strong" }, "Readings"), " · closed for entry"),
      h(
        "div",
        { class: "points-head", "aria-hidden": "true" },
        h("span", {}, "Point"),
        h("span", {}, "Reading"),
        h("span", {}, this.stripTitle()),
        h("span", {}, "Verdict"),
      ),
      rows,
      this.live,
      this.curve,
    );
    this.judge();
    return node;
  }

  stripTitle() {
    const rule = this.store.doc.rules[this.card.points[0].rule_id];
    return rule.correction.by === "none"
      ? "Against the limit"
      : `Against the limit, at ${rule.correction.reference_c} °C`;
  }

  row(point) {
    const strip = h("div", { class: "point-strip" });
    const word = h("div", { class: "point-verdict" });
    const why = h("div", { class: "point-why", id: `why-${point.id}` });
    const fault = h("p", { class: "fault point-fault", id: `fault-${point.id}`, role: "alert" });
    const change = h("span", { class: "small" });
    const reference = this.store.doc.rules[point.rule_id].correction.reference_c;
    const source = h("p", { class: "quiet small point-source" });
    const applied = appliedWords(this.store.doc.rules[point.rule_id], point.given);
    this.rows.set(point.id, { strip, word, why, fault, change, source });
    return h(
      "div",
      { class: "point", role: "group", "aria-label": `Point ${point.label}`, id: `point-${point.id}` },
      h(
        "div",
        { class: "point-label" },
        h("span", { class: "strong" }, point.label),
        applied && h("span", { class: "quiet small" }, applied),
        point.baseline &&
          h("span", { class: "quiet small" }, `baseline ${together(baselineWords(point.baseline, reference))}`),
        change,
      ),
      this.draft.editing(point) ? entry(this, point, this.shown(point)) : this.shown(point),
      strip,
      word,
      this.draft.editing(point) ? this.series.entry(point) : this.recordedSeries(point),
      source,
      fault,
      secondReading(this, point),
      why,
      deficiencyAt(this.store, this.card, point),
    );
  }

  /** A reading that holds, as it was typed, and those it supersedes. */
  shown(point) {
    const reading = this.held.get(point.id);
    if (!reading) return h("div", { class: "point-entry quiet" }, this.unreadWords(point));
    const earlier = this.card.readings.filter(
      (one) => one.point_id === point.id && one.superseded_by,
    );
    return h(
      "div",
      { class: "point-entry" },
      h("div", { class: "typed" }, typedWords(reading), " ", h("span", { class: "unit" }, saidUnit(reading.unit ?? ""))),
      h(
        "div",
        { class: "quiet small" },
        `${reading.by}, ${siteTime(reading.taken_at, this.store.zone)} · `,
        h("span", { class: "nowrap" }, reading.instrument),
        reading.waiting && " · kept on this tablet",
      ),
      earlier.map((one) =>
        h(
          "div",
          { class: "quiet small" },
          "before: ",
          h("s", {}, `${typedWords(one)} ${saidUnit(one.unit ?? "")}`),
          ` ${one.judgement.verdict}`,
        ),
      ),
      reading.reason && h("div", { class: "quiet small" }, `measured again: ${reading.reason}`),
      this.draft.closed && this.draft.of(point)?.again && againLater(this, point),
    );
  }

  /** A point without a reading; what is typed there stays in sight while the card is closed. */
  unreadWords(point) {
    const text = this.draft.closed && this.draft.textOf(point);
    if (!text) return "no reading";
    const unit = saidUnit(this.draft.unitFor(point, text) ?? "");
    return [h("div", { class: "typed" }, typedWords({ text }), " ", h("span", { class: "unit" }, unit)), h("div", { class: "small" }, "typed and kept, not recorded")];
  }

  recordedSeries(point) {
    const reading = this.held.get(point.id);
    return reading ? this.series.recorded(point, reading) : null;
  }

  lacksHere(point) {
    return Boolean(this.draft.of(point)?.lacks && this.draft.textOf(point) && blankAsks(this.store, this.card).length);
  }

  activate(point) {
    if (this.ui.active === point.id) return;
    this.ui.active = point.id;
    this.judge();
    this.ui.activeChanged?.();
  }

  /** Put the reading that a row holds into its field. */
  fill(point, text) {
    this.draft.set(point, { text });
    const field = document.querySelector(`[data-focus="reading-${point.id}"]`);
    if (field) field.value = text;
  }

  type(point, text) {
    this.draft.set(point, { text });
    this.judge();
    this.ui.activeChanged?.();
  }

  /** Put a sign before what is typed at the active point, or take it away. */
  toggleSign(sign) {
    const point = this.active();
    if (!point) return;
    const text = (this.draft.of(point)?.text ?? "").trim();
    const bare = text.replace(/^[<>]\s*/, "");
    this.draft.set(point, { text: text.startsWith(sign) ? bare : sign + bare });
    this.ui.focus = `reading-${point.id}`;
    this.store.changed();
  }

  active() {
    const points = this.card.points.filter((point) => this.draft.editing(point));
    return (
      points.find((point) => point.id === this.ui.active) ??
      points.find((point) => !this.held.has(point.id)) ??
      points[0]
    );
  }

  /** Judge what is typed, and show it. */
  judge() {
    const typed = this.draft.typed(this.series);
    const judgements = judgeTyped(this.store, this.card, typed);
    this.among = this.card.points
      .map((point) => this.judgementAt(point, typed.get(point.id), judgements.get(point.id)))
      .filter(Boolean);
    for (const point of this.card.points) {
      this.showRow(point, typed.get(point.id), judgements.get(point.id));
    }
    this.showCurve(typed, judgements);
  }

  /** Draw what the readings of a card lie on: a relay's curve, a characteristic, a circle. */
  showCurve(typed, judgements) {
    const rule = this.store.doc.rules[this.card.points[0].rule_id];
    const read = this.card.points.flatMap((point) => {
      const held = this.draft.editing(point) ? null : this.held.get(point.id);
      const reading = held ?? typed.get(point.id);
      if (!reading) return [];
      const judgement = held ? held.judgement : judgements.get(point.id);
      const { text, unit, conditions } = reading;
      const under = { ...point.given, ...conditions };
      return [{ label: point.label, text, unit, conditions: under, judgement, verdict: judgement.verdict, applied_a: point.given.applied_a, measured_pickup_a: under.measured_pickup_a }];
    });
    const timed = read.filter(({ applied_a: current }) => current !== undefined);
    const drawn = timeCurrent(rule, timed) ?? characteristic(rule, read) ?? dial(rule, read);
    this.curve.hidden = !drawn;
    replace(this.curve, drawn);
  }

  /** The judgement that a row shows: of what is recorded, or of what is typed. */
  judgementAt(point, typed, previewed) {
    const held = this.draft.editing(point) ? null : this.held.get(point.id);
    return held ? held.judgement : typed && previewed;
  }

  showRow(point, typed, previewed) {
    const { strip, word, why, fault, change, source } = this.rows.get(point.id);
    const held = this.draft.editing(point) ? null : this.held.get(point.id);
    const judgement = this.judgementAt(point, typed, previewed);
    this.showFault(point, fault, typed);
    this.series.refresh(point);
    const lacking = document.getElementById(`lacking-${point.id}`);
    if (lacking) lacking.hidden = !this.lacksHere(point);
    source.textContent = held ? "" : readWords(this.store, this.draft.of(point));
    change.textContent = changeWords(point.baseline, judgement, (held ?? typed)?.text);
    if (!judgement) {
      replace(
        strip,
        h("span", { class: "quiet small" }, this.wantedWords(point)),
        restsOnMemory({ cite: this.wantedCites(point) }) && recalled(),
      );
      replace(word);
      replace(why);
      return;
    }
    const text = held ? held.text : typed.text;
    const open = opened(this, point, judgement);
    const said = open ? this.wantedWords(point, held) : shortReason(judgement);
    replace(
      strip,
      limitStrip(judgement, text, this.among) ?? h("span", { class: "quiet small" }, said),
      restsOnMemory(judgement) && recalled(),
    );
    replace(word, verdictCell(this, point, judgement, held, previewed));
    replace(why, open ? explain(this, point, judgement, held) : null);
    if (!held && this.ui.active === point.id) {
      this.live.textContent = `${point.label}: ${judgement.verdict}. ${judgement.reason}`;
    }
  }

  wantedWords(point, held) {
    return wanted(...this.asked(point, held));
  }

  wantedCites(point) {
    return wantedCites(...this.asked(point));
  }

  /** Return the rule of a point with the conditions: those that a reading was recorded with, else as they stand. */
  asked(point, held) {
    const { conditions } = held ?? conditionsNow(this.store, this.card);
    return [this.store.doc.rules[point.rule_id], { ...point.given, ...conditions }];
  }

  showFault(point, node, typed) {
    const text = this.draft.textOf(point);
    const said = [...this.store.faultsAt(this.card.id, `row:${point.id}`)];
    if (this.draft.editing(point) && text && !typed) {
      const wrong = this.draft.faultAt(point);
      const begun = /^[<>+-]?$/.test(text);
      if (wrong && !begun && !said.includes(wrong)) said.push(wrong);
    }
    node.textContent = said.join(" ");
    node.hidden = !said.length;
  }

  /** Whether a point is to be read, the first time or again. */
  toRead() {
    return this.unread().length > 0 || this.card.points.some((point) => this.draft.of(point)?.again);
  }

  /** The points without a reading. */
  unread() {
    return this.card.points.filter((point) => !this.held.has(point.id));
  }

  /** The points where something is typed, whether it can be recorded now or not. */
  keptPoints() {
    return this.unread().filter((point) => this.draft.textOf(point));
  }

  /** The points with a value that is typed and not recorded. */
  typedPoints() {
    return this.card.points.filter((point) => this.draft.editing(point) && this.draft.textOf(point));
  }

  /** Record what is typed, point by point; the first that cannot be says why, and it stops there. */
  recordAll() {
    for (const point of this.typedPoints()) if (!this.record(point)) return;
  }

  /** Record the reading; what cannot be recorded says why, stays typed, and false is returned. */
  record(point, lacking = false) {
    if (!this.draft.textOf(point)) return false;
    const entry = entryOf(this, point, lacking);
    if (!entry) {
      this.store.changed();
      document.querySelector(".fault:not([hidden])")?.scrollIntoView({ block: "center" });
      return false;
    }
    const notes = sourceNotes(this, point);
    this.draft.drop(point);
    const next = nextAfter(this, point);
    this.ui.active = next?.id ?? null;
    if (next) this.ui.focus = `reading-${next.id}`;
    this.store.record(entry, ...notes);
    return true;
  }
}

// The grid of points: typed value, limit strip, verdict and working, then recorded.

import { amount, saidUnit } from "/offline/reader.js";
import { asksOf, chosenInstrument, conditionsNow } from "./conditions.js";
import { h, replace } from "./dom.js";
import { judgeTyped, standing, typedFault } from "./preview.js";
import { timeCurrent } from "./curve.js";
import { SeriesPart } from "./series_part.js";
import { limitStrip, wanted, wantedCites } from "./strip.js";
import { capital, OUTCOMES, recalled, restsOnMemory, siteTime, verdict } from "./words.js";

/** The grid; it redraws its verdicts while one types, and itself when told to. */
export class Points {
  constructor(store, card, ui, toRaise) {
    Object.assign(this, { store, card, ui, toRaise });
    this.procedure = store.doc.procedures[card.procedure];
    this.held = standing(card);
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

  draftOf(point) {
    return this.store.draft(this.card.id).rows[point.id];
  }

  setDraft(point, change) {
    const rows = this.store.draft(this.card.id).rows;
    rows[point.id] = { unit: this.unitOf(point), ...rows[point.id], lacks: false, ...change };
    this.store.clearFaults(this.card.id, `row:${point.id}`);
    this.store.saveDrafts();
  }

  dropDraft(point) {
    delete this.store.draft(this.card.id).rows[point.id];
    this.store.clearFaults(this.card.id, `row:${point.id}`);
    this.store.saveDrafts();
  }

  unitOf(point) {
    return this.draftOf(point)?.unit ?? this.held.get(point.id)?.unit ?? this.card.unit;
  }

  /** What is typed and can be taken by the method chosen; what it cannot take is kept. */
  textOf(point) {
    const text = this.draftOf(point)?.text?.trim() ?? "";
    return (text in OUTCOMES ? this.takesOutcomes() : this.takesNumbers()) ? text : "";
  }

  editing(point) {
    if (!this.store.mayRecord || ["signed", "signing", "withdrawn"].includes(this.card.state)) return false;
    return !this.held.has(point.id) || Boolean(this.draftOf(point)?.again);
  }

  row(point) {
    const strip = h("div", { class: "point-strip" });
    const word = h("div", { class: "point-verdict" });
    const why = h("div", { class: "point-why", id: `why-${point.id}` });
    const fault = h("p", { class: "fault point-fault", id: `fault-${point.id}`, role: "alert" });
    const change = h("span", { class: "small" });
    const reference = this.store.doc.rules[point.rule_id].correction.reference_c;
    this.rows.set(point.id, { strip, word, why, fault, change });
    return h(
      "div",
      { class: "point", role: "group", "aria-label": `Point ${point.label}`, id: `point-${point.id}` },
      h(
        "div",
        { class: "point-label" },
        h("span", { class: "strong" }, point.label),
        point.given.applied_a !== undefined &&
          h("span", { class: "quiet small" }, `${point.given.applied_a} A`),
        point.baseline &&
          h("span", { class: "quiet small" }, `baseline ${together(baselineWords(point.baseline, reference))}`),
        change,
      ),
      this.editing(point) ? this.entry(point) : this.shown(point),
      strip,
      word,
      this.editing(point) ? this.series.entry(point) : this.recordedSeries(point),
      fault,
      why,
    );
  }

  /** A reading that holds, as it was typed, and those it supersedes. */
  shown(point) {
    const reading = this.held.get(point.id);
    if (!reading) return h("div", { class: "point-entry quiet" }, "no reading");
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
    );
  }

  recordedSeries(point) {
    const reading = this.held.get(point.id);
    return reading ? this.series.recorded(point, reading) : null;
  }

  entry(point) {
    const draft = this.draftOf(point);
    return h(
      "div",
      { class: "point-entry" },
      draft?.again && this.againHead(point, draft),
      this.takesNumbers() && this.numberEntry(point, draft),
      this.takesOutcomes() && this.outcomeEntry(point, draft),
      h(
        "button",
        {
          type: "button",
          class: "button point-record",
          id: `record-${point.id}`,
          hidden: !this.textOf(point),
          onclick: () => this.record(point),
        },
        "Record",
        h("span", { class: "out-of-sight" }, ` ${point.label}`),
      ),
      this.lackingEntry(point),
    );
  }

  /** Without a condition that the rule needs the reading stands unjudged: not by accident. */
  lackingEntry(point) {
    return h(
      "button",
      {
        type: "button",
        class: "button button-quiet",
        id: `lacking-${point.id}`,
        hidden: !this.lacksHere(point),
        onclick: () => this.record(point, true),
      },
      "Record it without",
      h("span", { class: "out-of-sight" }, `, unjudged: ${point.label}`),
    );
  }

  /** The conditions that are wanted and blank. */
  lacking() {
    const { conditions, faults } = conditionsNow(this.store, this.card);
    return asksOf(this.store, this.card).filter(
      (ask) => ask.required && !(ask.name in conditions) && !faults[ask.name],
    );
  }

  lacksHere(point) {
    return Boolean(this.draftOf(point)?.lacks && this.textOf(point) && this.lacking().length);
  }

  method() {
    return conditionsNow(this.store, this.card).conditions.method;
  }

  takesNumbers() {
    return this.procedure.units.length > 0 && !["ac", "dc"].includes(this.method());
  }

  takesOutcomes() {
    return this.procedure.outcomes.length > 0 && this.method() !== "magnetron";
  }

  againHead(point, draft) {
    return h(
      "div",
      { class: "field again" },
      h("label", { for: `again-${point.id}` }, "Why it is measured again"),
      h("input", {
        id: `again-${point.id}`,
        "data-focus": `again-${point.id}`,
        autocomplete: "off",
        value: draft.again.reason ?? "",
        oninput: (event) =>
          this.setDraft(point, { again: { ...draft.again, reason: event.target.value } }),
      }),
      h(
        "button",
        {
          type: "button",
          class: "button button-quiet",
          onclick: () => {
            this.dropDraft(point);
            this.store.changed();
          },
        },
        "Leave the first reading",
      ),
    );
  }

  numberEntry(point, draft) {
    const number = draft?.text in OUTCOMES ? "" : (draft?.text ?? "");
    return h(
      "div",
      { class: "entry-box" },
      h("input", {
        type: "text",
        inputmode: "decimal",
        autocomplete: "off",
        autocapitalize: "off",
        class: "reading",
        "data-focus": `reading-${point.id}`,
        "data-point": point.id,
        "aria-label": `Reading at ${point.label}`,
        "aria-describedby": `fault-${point.id}`,
        placeholder: "–",
        value: number,
        onfocus: () => this.activate(point),
        oninput: (event) => this.type(point, event.target.value),
        onkeydown: (event) => event.key === "Enter" && this.record(point),
      }),
      h(
        "select",
        {
          class: "unit-select",
          "aria-label": `Unit at ${point.label}`,
          value: this.unitOf(point),
          onchange: (event) => {
            this.setDraft(point, { unit: event.target.value });
            this.judge();
          },
        },
        this.procedure.units.map((unit) => h("option", { value: unit }, saidUnit(unit))),
      ),
    );
  }

  outcomeEntry(point, draft) {
    return h(
      "div",
      { class: "outcomes", role: "group", "aria-label": `Outcome at ${point.label}` },
      this.procedure.outcomes.map((outcome) =>
        h(
          "button",
          {
            type: "button",
            class: "outcome",
            "data-focus": `outcome-${point.id}-${outcome}`,
            "aria-pressed": String(draft?.text === outcome),
            onclick: () => {
              this.activate(point);
              this.setDraft(point, { text: draft?.text === outcome ? "" : outcome });
              this.store.changed();
            },
          },
          OUTCOMES[outcome],
        ),
      ),
    );
  }

  activate(point) {
    if (this.ui.active === point.id) return;
    this.ui.active = point.id;
    this.judge();
    this.ui.activeChanged?.();
  }

  /** Put the reading that a row holds into its field. */
  fill(point, text) {
    this.setDraft(point, { text });
    const field = document.querySelector(`[data-focus="reading-${point.id}"]`);
    if (field) field.value = text;
  }

  type(point, text) {
    this.setDraft(point, { text });
    this.judge();
    this.ui.activeChanged?.();
  }

  /** Put a sign before what is typed at the active point, or take it away. */
  toggleSign(sign) {
    const point = this.active();
    if (!point) return;
    const text = (this.draftOf(point)?.text ?? "").trim();
    const bare = text.replace(/^[<>]\s*/, "");
    this.setDraft(point, { text: text.startsWith(sign) ? bare : sign + bare });
    this.ui.focus = `reading-${point.id}`;
    this.store.changed();
  }

  active() {
    const points = this.card.points.filter((point) => this.editing(point));
    return (
      points.find((point) => point.id === this.ui.active) ??
      points.find((point) => !this.held.has(point.id)) ??
      points[0]
    );
  }

  /** What is typed and can be read, by point. */
  typed() {
    const { conditions } = conditionsNow(this.store, this.card);
    const instrument = chosenInstrument(this.store, this.card);
    const found = new Map();
    for (const point of this.card.points) {
      const text = this.editing(point) && this.textOf(point);
      if (!text) continue;
      const unit = text in OUTCOMES ? null : this.unitOf(point);
      if (typedFault(this.store, this.card, text, unit)) continue;
      const own = { ...conditions, ...this.series.conditions(point) };
      found.set(point.id, { text, unit, conditions: own, instrument_id: instrument?.id });
    }
    return found;
  }

  /** Judge what is typed, and show it. */
  judge() {
    const typed = this.typed();
    const judgements = judgeTyped(this.store, this.card, typed);
    for (const point of this.card.points) {
      this.showRow(point, typed.get(point.id), judgements.get(point.id));
    }
    this.showCurve(typed, judgements);
  }

  /** Draw a relay's curve with what is recorded and what is typed. */
  showCurve(typed, judgements) {
    const rule = this.store.doc.rules[this.card.points[0].rule_id];
    const timed = this.card.points.flatMap((point) => {
      const held = this.editing(point) ? null : this.held.get(point.id);
      const reading = held ?? typed.get(point.id);
      if (!reading || point.given.applied_a === undefined) return [];
      const { verdict: word } = held ? held.judgement : judgements.get(point.id);
      const { text, unit, conditions } = reading;
      return [
        {
          label: point.label,
          text,
          unit,
          applied_a: point.given.applied_a,
          measured_pickup_a: conditions?.measured_pickup_a,
          verdict: word,
        },
      ];
    });
    const drawn = timeCurrent(rule, timed);
    this.curve.hidden = !drawn;
    replace(this.curve, drawn);
  }

  showRow(point, typed, previewed) {
    const { strip, word, why, fault, change } = this.rows.get(point.id);
    const held = this.editing(point) ? null : this.held.get(point.id);
    const judgement = held ? held.judgement : typed && previewed;
    this.showFault(point, fault, typed);
    this.series.refresh(point);
    const button = document.getElementById(`record-${point.id}`);
    if (button) button.hidden = !this.textOf(point);
    const lacking = document.getElementById(`lacking-${point.id}`);
    if (lacking) lacking.hidden = !this.lacksHere(point);
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
    const open = this.opened(point, judgement);
    const said = open ? this.wantedWords(point) : shortReason(judgement);
    replace(
      strip,
      limitStrip(judgement, text) ?? h("span", { class: "quiet small" }, said),
      restsOnMemory(judgement) && recalled(),
    );
    replace(word, this.verdictCell(point, judgement, held, previewed));
    replace(why, open ? this.explain(point, judgement, held) : null);
    if (!held && this.ui.active === point.id) {
      this.live.textContent = `${point.label}: ${judgement.verdict}. ${judgement.reason}`;
    }
  }

  wantedWords(point) {
    return wanted(...this.asked(point));
  }

  wantedCites(point) {
    return wantedCites(...this.asked(point));
  }

  /** Return the rule of a point with the conditions as they stand. */
  asked(point) {
    const { conditions } = conditionsNow(this.store, this.card);
    return [this.store.doc.rules[point.rule_id], { ...point.given, ...conditions }];
  }

  showFault(point, node, typed) {
    const text = this.textOf(point);
    const said = [...this.store.faultsAt(this.card.id, `row:${point.id}`)];
    if (this.editing(point) && text && !typed) {
      const unit = text in OUTCOMES ? null : this.unitOf(point);
      const wrong = typedFault(this.store, this.card, text, unit);
      const begun = /^[<>+-]?$/.test(text);
      if (wrong && !begun && !said.includes(wrong)) said.push(wrong);
    }
    node.textContent = said.join(" ");
    node.hidden = !said.length;
  }

  /** Whether the working is shown: asked for, or not within and not said just above. */
  opened(point, judgement) {
    const asked = this.ui.why.get(point.id);
    return asked ?? (judgement.verdict !== "within" && !this.saidAbove(point, judgement));
  }

  /** Whether the recorded reading above is unjudged for the same reason. */
  saidAbove(point, judgement) {
    if (judgement.verdict !== "unjudged" || this.editing(point)) return false;
    const above = this.card.points[this.card.points.indexOf(point) - 1];
    const held = above && !this.editing(above) && this.held.get(above.id);
    return Boolean(held) && held.judgement.reason === judgement.reason;
  }

  verdictCell(point, judgement, held, previewed) {
    const open = this.opened(point, judgement);
    return [
      verdict(judgement.verdict),
      held?.disposition && h("span", { class: "small quiet" }, `disposed: ${held.disposition.decision_text}`),
      held && previewed && previewed.verdict !== held.judgement.verdict
        ? h("span", { class: "small" }, `${previewed.verdict} beside what is typed`)
        : null,
      !open && this.saidAbove(point, judgement) && h("span", { class: "small quiet" }, "as above"),
      h(
        "button",
        {
          type: "button",
          class: "button button-quiet why-button",
          "data-focus": `why-${point.id}`,
          "aria-expanded": String(open),
          "aria-controls": `why-${point.id}`,
          onclick: () => {
            this.ui.why.set(point.id, !open);
            this.judge();
          },
        },
        open ? "Close" : "Why",
        h("span", { class: "out-of-sight" }, ` ${point.label} is ${judgement.verdict}`),
      ),
    ];
  }

  explain(point, judgement, held) {
    return h(
      "div",
      { class: `explained explained-${judgement.verdict}` },
      h("p", { class: "strong" }, `${capital(point.label)} is ${judgement.verdict}. ${judgement.reason}`),
      h("ol", { class: "working" }, judgement.working.map((step) => h("li", {}, step))),
      held && this.afterwards(point, held, judgement),
    );
  }

  afterwards(point, held, judgement) {
    if (!this.store.mayRecord || ["signed", "signing", "withdrawn"].includes(this.card.state)) return null;
    return h(
      "div",
      { class: "actions" },
      h(
        "button",
        { type: "button", class: "button", onclick: () => this.again(point, held) },
        "Measure again",
      ),
      judgement.verdict !== "within" &&
        h(
          "button",
          { type: "button", class: "button", onclick: () => this.toRaise(point, held) },
          "Raise deficiency",
        ),
    );
  }

  again(point, held) {
    this.setDraft(point, { text: "", unit: held.unit ?? this.card.unit, again: { of: held.id, reason: "" } });
    this.ui.active = point.id;
    this.ui.focus = `again-${point.id}`;
    this.store.changed();
  }

  /** Record the reading; what cannot be recorded says why and stays typed. */
  record(point, lacking = false) {
    if (!this.textOf(point)) return;
    const entry = this.entryOf(point, this.draftOf(point), lacking);
    if (!entry) {
      this.store.changed();
      document.querySelector(".fault:not([hidden])")?.scrollIntoView({ block: "center" });
      return;
    }
    this.dropDraft(point);
    const next = this.nextAfter(point);
    this.ui.active = next?.id ?? null;
    if (next) this.ui.focus = `reading-${next.id}`;
    this.store.record(entry);
  }

  entryOf(point, draft, lacking) {
    const { store, card } = this;
    const { conditions, faults } = conditionsNow(store, card);
    const instrument = chosenInstrument(store, card);
    const text = this.textOf(point);
    const unit = text in OUTCOMES ? null : this.unitOf(point);
    const wrong = typedFault(store, card, text, unit);
    store.clearFaults(card.id);
    if (wrong) store.addFault(card.id, `row:${point.id}`, wrong);
    if (!instrument) {
      store.addFault(card.id, "condition:instrument_id", "Choose the instrument from the register.");
      store.addFault(card.id, `row:${point.id}`, "Choose the instrument above first.");
    }
    for (const [name, said] of Object.entries(faults)) {
      store.addFault(card.id, `row:${point.id}`, `Look at the conditions above (${name.replaceAll("_", " ")}): ${said}`);
    }
    for (const said of this.series.faults(point, text)) store.addFault(card.id, `row:${point.id}`, said);
    if (draft.again && !draft.again.reason?.trim()) {
      store.addFault(card.id, `row:${point.id}`, "Say why the point is measured again.");
    }
    const blank = this.lacking();
    if (blank.length && !lacking && !store.faults[card.id]) {
      this.setDraft(point, { lacks: true });
      const names = blank.map((ask) => ask.label.toLowerCase()).join(", ");
      store.addFault(card.id, `row:${point.id}`, `Fill in above: ${names}. Without it the reading may stand unjudged.`);
    }
    if (store.faults[card.id]) return null;
    return {
      kind: "reading",
      card_id: card.id,
      point_id: point.id,
      text,
      unit,
      conditions: { ...conditions, ...this.series.conditions(point) },
      instrument_id: instrument.id,
      ...(draft.again && { supersedes: draft.again.of, reason: draft.again.reason.trim() }),
    };
  }

  nextAfter(point) {
    const at = this.card.points.indexOf(point);
    const order = [...this.card.points.slice(at + 1), ...this.card.points.slice(0, at)];
    return order.find((one) => !this.held.has(one.id));
  }
}

/** Return a reading as typed; an outcome in words. */
export function typedWords(reading) {
  return OUTCOMES[reading.text] ?? reading.text;
}

/** The baseline as it can be compared: corrected, with its unit. */
function baselineWords(baseline, reference) {
  if (baseline.value === null) return typedWords(baseline).toLowerCase();
  const sign = baseline.over_range ? "over " : baseline.under_range ? "under " : "";
  const at = reference === undefined ? "" : ` at ${reference} °C`;
  return `${sign}${amount(baseline.value, baseline.value_unit)}${at}`;
}

/** A number and its unit stay in one row. */
function together(words) {
  return words.replace(/(\d) (?=[^\d\s])/g, "$1\u00a0");
}

/** How far a reading lies from its baseline; bounds cannot be compared. */
function changeWords(baseline, judgement, text) {
  if (!baseline?.value || baseline.over_range || baseline.under_range) return "";
  if (typeof judgement?.corrected !== "number" || /^\s*[<>]/.test(text)) return "";
  const percent = Math.round(100 * (judgement.corrected / baseline.value - 1));
  return `now ${percent < 0 ? "−" : "+"}${Math.abs(percent)} %`;
}

function shortReason(judgement) {
  const first = judgement.reason.split(/(?<=\.)\s/)[0];
  return first.length > 90 ? `${first.slice(0, 88)}…` : first;
}

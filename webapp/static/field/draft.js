// What is typed at the points of a card and not recorded yet.

import { chosenInstrument, conditionsNow } from "./conditions.js";
import { standing, typedFault } from "./preview.js";
import { OUTCOMES } from "./words.js";

/** Whether a hold point of the card waits: no reading is taken before its release. */
export function isHeld(card) {
  return (card.inspections ?? []).some((point) => point.kind === "hold" && !point.answer);
}

/** The draft of a card; it is kept on the tablet with every key. *closed*: nothing is entered now. */
export class Draft {
  constructor(store, card, closed = false) {
    Object.assign(this, { store, card, closed });
    this.procedure = store.doc.procedures[card.procedure];
    this.held = standing(card);
  }

  of(point) {
    return this.store.draft(this.card.id).rows[point.id];
  }

  set(point, change) {
    const rows = this.store.draft(this.card.id).rows;
    rows[point.id] = { unit: this.unitOf(point), ...rows[point.id], lacks: false, ...change };
    this.store.clearFaults(this.card.id, `row:${point.id}`);
    this.store.saveDrafts();
  }

  drop(point) {
    delete this.store.draft(this.card.id).rows[point.id];
    this.store.clearFaults(this.card.id, `row:${point.id}`);
    this.store.saveDrafts();
  }

  unitOf(point) {
    return this.of(point)?.unit ?? this.held.get(point.id)?.unit ?? (this.card.unit || this.procedure.units[0] || "");
  }

  /** What is typed and can be taken by the method chosen; what it cannot take is kept. */
  textOf(point) {
    const text = this.of(point)?.text?.trim() ?? "";
    return (text in OUTCOMES ? this.takesOutcomes() : this.takesNumbers()) ? text : "";
  }

  editing(point) {
    if (this.closed || !this.store.mayRecord || isHeld(this.card) || ["signed", "signing", "withdrawn"].includes(this.card.state)) return false;
    return !this.held.has(point.id) || Boolean(this.of(point)?.again);
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

  /** The unit that a text is read in; an outcome has none. */
  unitFor(point, text) {
    return text in OUTCOMES ? null : this.unitOf(point);
  }

  /** What is wrong with what is typed at a point, as words; null when nothing is. */
  faultAt(point) {
    const text = this.textOf(point);
    return typedFault(this.store, this.card, text, this.unitFor(point, text));
  }

  /** What is typed and can be read, by point; *series* has the rows beside it. */
  typed(series) {
    const instrument = chosenInstrument(this.store, this.card);
    const found = new Map();
    for (const point of this.card.points) {
      const text = this.editing(point) && this.textOf(point);
      if (!text || this.faultAt(point)) continue;
      const { conditions } = conditionsNow(this.store, this.card, point);
      const own = { ...conditions, ...series.conditions(point) };
      const unit = this.unitFor(point, text);
      found.set(point.id, { text, unit, conditions: own, instrument_id: instrument?.id });
    }
    return found;
  }
}

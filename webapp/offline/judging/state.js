/**
 * A reading on its way to a verdict: numbers, findings and the working so far.
 */

import { convert, saidUnit } from "./quantities.js";
import { citeWords } from "./rules.js";
import { boundOf, isExact, isInterval, legible } from "./values.js";
import { amount } from "./wording.js";

export const WITHIN = "within";
export const MARGINAL = "marginal";
export const OUTSIDE = "outside";
export const UNJUDGED = "unjudged";

// The first of these that occurs among the findings is the verdict.
const WORST_FIRST = [OUTSIDE, MARGINAL, UNJUDGED, WITHIN];

/** Numbers are in the rule's unit; `high` is infinite for an over-range reading. */
export class State {
  low = 0;
  high = 0;
  factor = 1;
  expanded = null; // U, corrected; null without an accuracy
  limitLow = null;
  limitHigh = null;
  findings = [];
  working = [];
  cited = [];

  constructor(rule, reading, value, unit) {
    this.rule = rule;
    this.reading = reading;
    this.value = value;
    this.unit = unit;
  }

  /** A condition of the reading; null when it was not given. */
  condition(name) {
    return this.reading.conditions[name] ?? null;
  }

  /** Whether a number was read. */
  get numeric() {
    return isInterval(this.value);
  }

  /** Whether the reading is one number, and not only a bound. */
  get exact() {
    return isExact(this.value);
  }

  /** The corrected value, or the corrected bound that is known. */
  get shown() {
    return this.numeric && this.value.low !== -Infinity ? this.low : this.high;
  }

  /** Whether something was found that forbids comparing with bounds. */
  get stopped() {
    return this.findings.length > 0;
  }

  /** A value in the rule's unit, for people. */
  say(value) {
    return amount(value, this.rule.unit ?? "");
  }

  /** U for people, in the unit of the value that it belongs to. */
  sayU() {
    return amount(this.expanded ?? 0, this.rule.unit ?? "", this.shown);
  }

  /** The reading as it was typed, with its unit. */
  typed() {
    return `${legible(this.reading.text)} ${saidUnit(this.unit)}`.trim();
  }

  /** Words for the value as the bound that it may be only. */
  bounded(words) {
    if (this.exact) return words;
    return `${this.high === Infinity ? "At least" : "At most"} ${words}`;
  }

  /** Add a finding, and its sentence to the working. */
  find(verdict, sentence) {
    this.findings.push({ verdict, sentence });
    this.working.push(sentence);
  }

  /** Note that a citation of the rule took part. */
  source(index) {
    if (index !== undefined && index !== null && !this.cited.includes(index)) {
      this.cited.push(index);
    }
  }

  /** Keep the tightest limits for the record. */
  narrow({ low = null, high = null }) {
    if (low !== null) this.limitLow = Math.max(this.limitLow ?? low, low);
    if (high !== null) this.limitHigh = Math.min(this.limitHigh ?? high, high);
  }

  /** The judgement as JSON: the worst finding wins. */
  judgement() {
    const found = this.findings.map(({ verdict }) => verdict);
    const verdict = WORST_FIRST.find((worst) => found.includes(worst));
    const reasons = this.findings
      .filter((finding) => finding.verdict === verdict)
      .map(({ sentence }) => sentence);
    const cite = this.cited.map((index) => ({ ...this.rule.cite[index] }));
    return {
      verdict,
      value: this.numeric ? boundOf(this.value) : null,
      unit: this.unit,
      corrected: this.numeric && this.factor !== null ? this.shown : null,
      corrected_unit: this.numeric ? this.rule.unit : null,
      limit_low: this.limitLow,
      limit_high: this.limitHigh,
      uncertainty: this.exact ? this.expanded : null,
      reason: [...new Set(reasons)].join(" "),
      cite,
      working: [...this.working, ...cite.map(citeWords)],
    };
  }
}

/** An interval in the rule's unit as [low, high]; nothing measured is negative. */
export function inRuleUnit(value, unit, rule) {
  const low = value.low === -Infinity ? 0 : convert(value.low, unit, rule.unit);
  const high =
    value.high === Infinity ? Infinity : convert(value.high, unit, rule.unit);
  return [low, high];
}

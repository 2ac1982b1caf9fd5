// What the grid of points says in words.

import { shownAmount } from "./shown_amount.js";
import { OUTCOMES } from "./words.js";

/** Return a reading as typed; an outcome in words. */
export function typedWords(reading) {
  return OUTCOMES[reading.text] ?? reading.text;
}

/** Return the baseline as it can be compared: corrected, with its unit. */
export function baselineWords(baseline, reference) {
  if (baseline.value === null) return typedWords(baseline).toLowerCase();
  const sign = baseline.over_range ? "over " : baseline.under_range ? "under " : "";
  const at = reference === undefined ? "" : ` at ${reference} °C`;
  return `${sign}${shownAmount(baseline.value, baseline.value_unit)}${at}`;
}

/** Return the words; a number and its unit stay in one row. */
export function together(words) {
  return words.replace(/(\d) (?=[^\d\s])/g, "$1\u00a0").replace(/\u00a0: 1\b/g, "\u00a0:\u00a01").replace(/× 10(?=⁻)/g, "×\u00a010");
}

/** Return how far a reading lies from its baseline; bounds cannot be compared. */
export function changeWords(baseline, judgement, text) {
  if (!baseline?.value || baseline.over_range || baseline.under_range) return "";
  if (typeof judgement?.corrected !== "number" || /^\s*[<>]/.test(text)) return "";
  const percent = Math.round(100 * (judgement.corrected / baseline.value - 1));
  return `now ${percent < 0 ? "−" : "+"}${Math.abs(percent)} %`;
}

/** Return the first sentence of a reason, cut where it is long. */
export function shortReason(judgement) {
  const [first] = judgement.reason.match(/^[^]*?\.(?=\s)/) ?? [judgement.reason];
  return first.length > 90 ? `${first.slice(0, 88)}…` : first;
}

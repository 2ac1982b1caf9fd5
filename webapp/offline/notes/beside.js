/**
 * A sentence of the catalogue that stands beside a verdict as it is.
 */

import { say } from "../words/catalogue.js";

/** The sentence; none where its condition lies elsewhere or is not known, or another outcome was observed. */
export function besideWords({ reading, typed }, { sentence, parts, on, above, below, outcome }) {
  if (on !== undefined) {
    const at = reading.conditions[on];
    if (!Number.isFinite(at) || at <= above || at >= below) return [];
  }
  if (outcome !== undefined && outcome !== typed.outcome) return [];
  return [say(sentence, parts)];
}

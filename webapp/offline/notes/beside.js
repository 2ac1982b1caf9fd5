/**
 * A sentence of the catalogue that stands beside a verdict as it is.
 */

import { say } from "../words/catalogue.js";

/** The sentence; none where its condition lies elsewhere or is not known. */
export function besideWords({ reading }, { sentence, parts, on, above, below }) {
  if (on !== undefined) {
    const at = reading.conditions[on];
    if (!Number.isFinite(at) || at <= above || at >= below) return [];
  }
  return [say(sentence, parts)];
}

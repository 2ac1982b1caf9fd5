/**
 * An operations counter as found and as left: it never runs backwards.
 */

import { say } from "../words/catalogue.js";
import { plain } from "../words/numbers.js";

/** How far it moved, or that the counts do not fit; nothing without both. */
export function counterWords({ reading }, note) {
  const [found, left] = [note.found, note.left].map((name) => reading.conditions[name]);
  if (!Number.isFinite(found) || !Number.isFinite(left)) return [];
  const parts = { found: plain(found), left: plain(left), moved: plain(left - found) };
  return [say(left < found ? "counter.back" : "counter", parts)];
}

/**
 * A relay's current on both sides of its current transformer.
 */

import { say } from "../words/catalogue.js";
import { figure, plain } from "../words/numbers.js";

/** The current in primary amperes and in those of the relay. */
export function bothBases({ base, primary, secondary }, value) {
  const ratio = primary / secondary;
  return base === "primary" ? [value, value / ratio] : [value * ratio, value];
}

export function otherBaseWords({ reading, values }, note) {
  const value = note.on === "reading" ? values.reading?.corrected : reading.conditions[note.on];
  if (!Number.isFinite(value)) return [];
  const [one, two] = bothBases(note, value);
  const ratio = { primary: plain(note.primary), secondary: plain(note.secondary) };
  return [say("other_base", { ...ratio, one: figure(one), two: figure(two) })];
}

/**
 * What wrong wiring would give a measured angle. The same as wiring_guess.py of models/judging.
 */

import { wrapped } from "../angles.js";
import { expectedOf } from "../measured.js";
import { say } from "../words/catalogue.js";
import { figure } from "../words/numbers.js";

const PHASES = ["a", "b", "c"];
const POLARITIES = [
  [0, "phase"],
  [180, "phase_turned"],
];

/** The wiring that fits best; nothing where it is as drawn, or none fits. */
export function wiringGuessWords({ reading, values }, note) {
  const phase = reading.conditions[note.on];
  const read = values.reading;
  const expected = expectedOf(note, values);
  if (!PHASES.includes(phase) || !read?.exact || !Number.isFinite(expected)) return [];
  const difference = wrapped(read.corrected - expected);
  const { rest, wiring, other } = nearest(note.leads, phase, difference);
  const asDrawn = other === phase && wiring === "phase";
  if (asDrawn || Math.abs(rest) > note.most_deg) return [];
  const found = say(`wiring_guess.${other === phase ? "turned" : wiring}`, { phase: other.toUpperCase() });
  return [say("wiring_guess", { difference: figure(difference), wiring: found, rest: figure(rest) })];
}

function nearest(leads, phase, difference) {
  const found = PHASES.flatMap((other) =>
    POLARITIES.map(([turn, wiring]) => ({
      rest: wrapped(difference - (leads[other] - leads[phase] + turn)),
      wiring,
      other,
    })),
  );
  return found.reduce((best, one) => (Math.abs(one.rest) < Math.abs(best.rest) ? one : best));
}

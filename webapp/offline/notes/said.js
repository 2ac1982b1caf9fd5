/**
 * What a rule's notes say beside a verdict; they never change it.
 */

import { applies, CriteriaError } from "../judge.js";
import { altitudeWords } from "./altitude.js";
import { besideWords } from "./beside.js";
import { conformityWords } from "./conformity.js";
import { counterWords } from "./counter.js";
import { fullLoadWords } from "./full_load.js";
import { limitFactorWords } from "./limit_factor.js";
import { dewPointWords, humidityWords } from "./moisture.js";
import { otherKneeWords } from "./other_knee.js";
import { polarizationWords } from "./polarization.js";
import { coilMarksWords, travelWords } from "./records.js";
import { sameFileWords } from "./same_file.js";
import { heldLeakageWords, leakageWords, stepVoltageWords } from "./steps.js";
import { otherBaseWords } from "./other_base.js";
import { waitTimeWords } from "./wait_time.js";
import { wiringGuessWords } from "./wiring_guess.js";

const SAYS = {
  altitude: altitudeWords,
  beside: besideWords,
  coil_marks: coilMarksWords,
  conformity: conformityWords,
  counter: counterWords,
  dew_point: dewPointWords,
  full_load: fullLoadWords,
  held_leakage: heldLeakageWords,
  humidity: humidityWords,
  leakage: leakageWords,
  limit_factor: limitFactorWords,
  other_knee: otherKneeWords,
  polarization: polarizationWords,
  same_file: sameFileWords,
  step_voltage: stepVoltageWords,
  travel: travelWords,
  other_base: otherBaseWords,
  wait_time: waitTimeWords,
  wiring_guess: wiringGuessWords,
};

const SINCE = 2; // the version of a rule that brought notes

/** The notes that have something to say: [{note, sentences}]. */
export function notesOf(state) {
  const { v: version, notes = [] } = state.rule;
  if (version < SINCE && notes.length > 0) {
    throw new CriteriaError(`a rule of version ${version} has no notes`);
  }
  notes.forEach(({ say }, index) => {
    if (Object.hasOwn(SAYS, say)) return;
    const known = Object.keys(SAYS).join(", ");
    throw new CriteriaError(`note ${index + 1} says '${say}', which is none of ${known}`);
  });
  return notes
    .filter((note) => applies(note, state.reading))
    .map((note) => ({ note, sentences: SAYS[note.say](state, note) }))
    .filter(({ sentences }) => sentences.length > 0);
}

/**
 * What the pages use: the reader of rules with its words, the same answers as
 * models/judging without a server.
 */

import * as bare from "./judge.js";
import { readItem } from "./measured.js";
import * as relay from "./relay_times.js";
import * as typed from "./typed.js";
import * as units from "./units.js";
import { say } from "./words/catalogue.js";
import { faultWords } from "./words/faults.js";
import { inWords } from "./working.js";

export { inSentence } from "./words/names.js";
export { fitCurve, fitWords, sloping } from "./curve_fit.js";
export { withInstrumentGates } from "./instrument.js";
export { CriteriaError } from "./judge.js";
export { figuresOfRow, marksInForce, marksOfRow } from "./record_marks.js";
export { appliedTo, operatingTime, reach, settingOf, timesAt, unwidened } from "./relay_times.js";
export { bothBases } from "./notes/other_base.js";
export { OUTCOMES } from "./tables.js";
export { offeredBy, readsRow, rowLines } from "./row_lines.js";
export { rowReasons } from "./row_reasons.js";
export { baseOf, unitOf } from "./said.js";
export { together } from "./together.js";
export { unitName } from "./typed.js";
export { nameOf } from "./words/names.js";
export { amount, figure, plain, saidUnit, scaleFor } from "./words/numbers.js";
export { heldFor } from "./words/withstand.js";

/** What was typed cannot be used; `faults` is [{field, message}]. */
export class InputError extends Error {
  name = "InputError";

  constructor(...faults) {
    super(faults.map(({ field, message }) => `${field}: ${message}`).join("; "));
    this.faults = faults;
  }
}

/**
 * Judge items {rule, reading} as one group: judgements with reason, sources and working.
 * `procedures` gives by name the title, units and outcomes of those that the rules name.
 */
export const judge = saying((items, procedures) => steps(items, procedures).map(inWords));

/** The same as numbers and steps, without words. */
export function steps(items, procedures) {
  return bare.judge(items.map((item) => readItem(item, procedures)), relay);
}

export const parseValue = saying(typed.parseValue);
export const checkReading = saying(typed.checkReading);
export const convert = saying(units.convert);
export const { quantityOf } = units;

/** An outcome as people say it. */
export const outcomeWords = (outcome) => say(`outcome.${outcome}`);

/** The function, saying in words why it refuses. */
function saying(answer) {
  return (...given) => {
    try {
      return answer(...given);
    } catch (error) {
      if (!(error instanceof units.InputError)) throw error;
      const { field } = error.fault;
      throw new InputError({ field, message: faultWords(error.fault) });
    }
  };
}

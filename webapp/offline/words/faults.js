/**
 * What is wrong with what was typed, and what to type instead.
 */

import { saidUnit } from "./numbers.js";
import { TITLES } from "./titles.js";

const BLANK_OR_MARK = /[\p{Z}\p{Cf}\p{Cc}'_]/u;

const FAULTS = {
  no_number: ({ number }) => whyNoNumber(number),
  too_large: ({ number }) => `'${number}' is out of all proportion; check it.`,
  other_kind: notOfThisKind,
  other_unit: unitDoesNotFit,
  negative: ({ procedure }) =>
    `${title(procedure)} cannot be negative: check the sign and the leads.`,
  other_quantity: ({ unit, wanted }) => `${saidUnit(unit)} is not a ${wanted}.`,
};

/** The sentence for a fault of the reader. */
export function faultWords(fault) {
  return FAULTS[fault.code](fault);
}

function whyNoNumber(number) {
  if (!number) return "Enter a value.";
  if (number.includes(",")) {
    return (
      `'${number}' has a comma: write the decimal point as '.', ` +
      "and no thousands separators."
    );
  }
  if (BLANK_OR_MARK.test(number)) {
    return `'${number}' has a separator in it: write the digits without.`;
  }
  return (
    `'${number}' is not a number: write 4.2, >200 when the instrument is over ` +
    "range, <0.01 when it is under range."
  );
}

/** A number where only an outcome fits, or an outcome that this test does not have. */
function notOfThisKind({ procedure, outcome }) {
  const outcomes = procedure.outcomes.join(" or ");
  if (!outcome) return `${title(procedure)} has no number: enter ${outcomes}.`;
  const wrong = `'${outcome}' does not fit ${title(procedure).toLowerCase()}: enter `;
  if (!outcomes) return `${wrong}a number.`;
  return `${wrong}${outcomes}${procedure.units.length > 0 ? " or a number." : "."}`;
}

function unitDoesNotFit({ procedure, symbol }) {
  const fitting = procedure.units.map(saidUnit).join(", ");
  const wrong = symbol ? `'${symbol}' does not fit` : "No unit is given for";
  return `${wrong} ${title(procedure).toLowerCase()}: use ${fitting}.`;
}

function title(procedure) {
  return procedure.title ?? TITLES.get(procedure.name);
}

/**
 * What is wrong with what was typed, and what to type instead.
 */

import { join, say } from "./catalogue.js";
import { inSentence } from "./names.js";
import { saidUnit } from "./numbers.js";

const BLANK_OR_MARK = /[\p{Z}\p{Cf}\p{Cc}'_]/u;

const FAULTS = {
  no_number: ({ number }) => whyNoNumber(number, "fault.no_number"),
  no_plain_number: ({ number }) => whyNoNumber(number, "fault.no_plain_number"),
  too_large: ({ number }) => say("fault.too_large", { number }),
  other_kind: notOfThisKind,
  other_unit: unitDoesNotFit,
  negative: ({ procedure }) => say("fault.negative", { procedure: procedure.title }),
  other_quantity: ({ unit, wanted }) =>
    say("fault.other_quantity", { unit: saidUnit(unit), quantity: wanted }),
};

/** The sentence for a fault of the reader. */
export function faultWords(fault) {
  return FAULTS[fault.code](fault);
}

function whyNoNumber(number, refusal) {
  if (!number) return say("fault.nothing");
  if (number.includes(",")) return say("fault.comma", { number });
  return say(BLANK_OR_MARK.test(number) ? "fault.separator" : refusal, { number });
}

/** A number where only an outcome fits, or an outcome that this test does not have. */
function notOfThisKind({ procedure, outcome }) {
  const { title, units, outcomes } = procedure;
  const named = outcomes.length > 0 ? { outcomes: join("list.or", outcomes) } : {};
  if (!outcome) return say("fault.outcomes_only", { procedure: title, ...named });
  const parts = { outcome, procedure: inSentence(title), ...named };
  if (outcomes.length === 0) return say("fault.no_outcome", parts);
  const id = units.length > 0 ? "fault.other_outcome_or_number" : "fault.other_outcome";
  return say(id, parts);
}

function unitDoesNotFit({ procedure, symbol }) {
  const units = join("list.comma", procedure.units.map(saidUnit));
  const parts = { procedure: inSentence(procedure.title), units };
  return symbol ? say("fault.unit", { ...parts, unit: symbol }) : say("fault.no_unit", parts);
}

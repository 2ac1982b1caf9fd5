/**
 * Whether what was typed can be a reading of a procedure at all.
 */

import { InputError } from "./errors.js";
import { PROCEDURES } from "./procedures.js";
import { saidUnit, unitName } from "./quantities.js";
import { boundOf, isInterval, parseValue } from "./values.js";

/**
 * The value and the unit's name, as {value, unit}.
 *
 * `procedure` is {name, units, outcomes}, with or without its title.
 * Throws InputError with the field (value or unit) and the remedy: not a number, a
 * unit that does not fit, a negative reading, an outcome that this test does not have.
 */
export function checkReading(procedure, text, unit) {
  const title = procedure.title ?? PROCEDURES.get(procedure.name).title;
  const value = parseValue(text);
  if (!isInterval(value)) {
    if (procedure.outcomes.includes(value.outcome)) return { value, unit: null };
    throw fault("value", notAnOutcome(procedure, title, value.outcome));
  }
  if (procedure.units.length === 0) {
    const outcomes = procedure.outcomes.join(" or ");
    throw fault("value", `${title} has no number: enter ${outcomes}.`);
  }
  const name = unitName(unit ?? "");
  if (!procedure.units.includes(name)) {
    const fitting = procedure.units.map(saidUnit).join(", ");
    const wrong = unit ? `'${unit}' does not fit` : "No unit is given for";
    throw fault("unit", `${wrong} ${title.toLowerCase()}: use ${fitting}.`);
  }
  if (boundOf(value) < 0) {
    throw fault("value", `${title} cannot be negative: check the sign and the leads.`);
  }
  return { value, unit: name };
}

function notAnOutcome(procedure, title, outcome) {
  const wrong = `'${outcome}' does not fit ${title.toLowerCase()}: enter `;
  if (procedure.outcomes.length === 0) return `${wrong}a number.`;
  const or = procedure.units.length > 0 ? " or a number." : ".";
  return wrong + procedure.outcomes.join(" or ") + or;
}

function fault(field, message) {
  return new InputError({ field, message });
}

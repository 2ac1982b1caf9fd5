/**
 * The unit in which a rule's values are said, where it is not the rule's own.
 */

const SAID_AS = ">"; // between a base unit and the unit in which its values are said

/** The unit that a rule declares, or that a condition of the reading names; else null. */
export function saidUnitOf({ said = null }, { conditions = {} }) {
  if (said === null || typeof said === "string") return said;
  const named = conditions[said.on];
  return typeof named === "string" ? named.trim() || null : null;
}

/** The unit of a rule's values, with the one that they are said in. */
export function baseOf(rule, reading) {
  const unit = rule.unit ?? "";
  const said = saidUnitOf(rule, reading);
  return said ? `${unit}${SAID_AS}${said}` : unit;
}

/** The unit of a judgement's numbers, with the one that they are said in. */
export function unitOf({ corrected_unit: unit, said_unit: said }) {
  return said ? `${unit}${SAID_AS}${said}` : unit;
}

/** A base unit, and the unit in which its values are said; undefined where it is its own. */
export const splitBase = (base) => (base ?? "").split(SAID_AS);

/**
 * What a reading, a derived value or a condition is called in a sentence.
 */

import { has, say } from "./catalogue.js";

/** Whether a rule derives the value of this name. */
export const isDerived = ({ derive = [] }, name) => derive.some((part) => part.name === name);

/** What a bound is `of`, at the head of a sentence; empty for the reading. */
export function comparedName(state, { of = "reading", label } = {}) {
  if (of === "reading") return "";
  const name = nameOf(state, of, label);
  return name.charAt(0).toUpperCase() + name.slice(1);
}

/** A title inside a sentence: its first letter is small, an abbreviation stays. */
export function inSentence(title) {
  const second = title.charAt(1);
  return second !== second.toLowerCase() ? title : title.charAt(0).toLowerCase() + title.slice(1);
}

/** `label` is what the part of the rule that names it calls it. */
export function nameOf({ rule }, name, label) {
  if (label !== undefined) return label;
  if (name === "reading") return say("derived.reading");
  const part = rule.derive?.find((one) => one.name === name);
  if (part) return part.label ?? name;
  return has(`condition.${name}`) ? say(`condition.${name}`) : name;
}

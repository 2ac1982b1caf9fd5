/**
 * What a condition is called in a sentence.
 */

import { has, say } from "./catalogue.js";

export function conditionLabel(name) {
  const id = `condition.${name}`;
  return has(id) ? say(id) : name;
}

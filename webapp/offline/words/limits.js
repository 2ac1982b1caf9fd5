/**
 * How a value was compared with a limit, in words.
 */

import { atLeast } from "../judge.js";
import { say } from "./catalogue.js";
import { bounded, shown, shownU } from "./shown.js";

/** At least a limit of this name. */
export function lowWords(state, { verdict, low }, name) {
  const limit = say("limit", { name, value: shown(state, low) });
  if (low <= 0 && !state.signed) return say("low.nothing", { limit });
  if (verdict === "marginal") {
    const side = atLeast(state.corrected, low) ? "above" : "below";
    return marginalWords(state, `low.marginal_${side}`, limit);
  }
  const value = guarded(state, verdict === "within" ? "minus" : "plus");
  return say(`low.${verdict}`, { value, limit });
}

/** At most a limit of this name. */
export function highWords(state, { verdict, high }, name) {
  const limit = say("limit", { name, value: shown(state, high) });
  if (verdict === "marginal") {
    const side = atLeast(high, state.corrected) ? "below" : "above";
    return marginalWords(state, `high.marginal_${side}`, limit);
  }
  const value = guarded(state, verdict === "within" ? "plus" : "minus");
  return say(`high.${verdict}`, { value, limit });
}

function marginalWords(state, id, limit) {
  return say(id, { value: shown(state, state.corrected), limit, u: shownU(state) });
}

/** The value with U on the side on which it matters: of a bound, that which is known. */
function guarded(state, side) {
  const value = shown(state, state.corrected);
  if (!state.expanded) return bounded(state, value);
  const known = state.high === Infinity ? "minus" : "plus";
  const way = state.exact ? side : known;
  return bounded(state, say(`value.${way}_u`, { value, u: shownU(state) }));
}

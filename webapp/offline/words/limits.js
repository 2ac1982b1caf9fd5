/**
 * How a reading was compared with a limit, in words.
 */

import { atLeast } from "../judge.js";
import { bounded, say, sayU } from "./said.js";

const MINUS = "−";

/** At least a limit of this name. */
export function lowWords(state, { verdict, low: limit }, name) {
  const said = `${name} ${say(state, limit)}`;
  if (limit <= 0) return `No reading can be below ${said}.`;
  const side = atLeast(state.corrected, limit) ? "at or above" : "below";
  return limitWords(state, verdict, { side, said, sign: MINUS });
}

/** At most a limit of this name. */
export function highWords(state, { verdict, high: limit }, name) {
  const said = `${name} ${say(state, limit)}`;
  const side = atLeast(limit, state.corrected) ? "at or below" : "above";
  return limitWords(state, verdict, { side, said, sign: "+" });
}

function limitWords(state, verdict, { side, said, sign }) {
  const shown = say(state, state.corrected);
  if (verdict === "marginal") return `${shown} is ${side} ${said} by less than U ${sayU(state)}.`;
  const beyond = state.expanded ? ` ${away(state, sign, verdict)} U ${sayU(state)}` : "";
  const guarded = bounded(state, shown + beyond);
  if (verdict !== "unjudged") return `${guarded} is ${side} ${said}.`;
  return `${guarded} is all that is known: it may lie on either side of ${said}.`;
}

/** The side on which U matters: of a bound, that which is known. */
function away({ exact, high }, sign, verdict) {
  if (!exact) return high === Infinity ? MINUS : "+";
  if (verdict === "within") return sign;
  return sign === MINUS ? "+" : MINUS;
}

/**
 * What is asked after the readings of a card: the gear is made safe again.
 *
 * It opens with the first reading, and earlier for what gives back a ground that is off or
 * a spring that is charged. No lapse and no stop closes it; a later reading asks again.
 */

import { ofCard } from "./asked.js";
import { lineJson } from "./line_standing.js";
import { SECOND } from "./times.js";

const DISCHARGE_TIMES = 4; // MIL-HDBK-1023/4; the factor from memory

/** The lines that are asked now, as they stand. */
export function afterLines(state, card, choice) {
  return ofCard(state, card, choice, "after").flatMap((code) => {
    const since = askedSince(state, card, code);
    if (since === null) return [];
    const given = state.lines.find("after", card, code);
    const why = since === state.card(card).lastReading ? "reading" : "again";
    const again = given && given.at <= since ? { why, at: since } : null;
    return [lineJson({ code }, given, again)];
  });
}

/** The codes that are still to be given on a card. */
export function afterOpen(state, card) {
  const lines = afterLines(state, card, null).filter(({ state: word }) => ["open", "lapsed"].includes(word));
  return lines.map(({ code }) => code);
}

/** The moment after which a line has to be given; null: it is not asked. */
function askedSince(state, card, code) {
  if (!mayBeGiven(state, card, code)) return null;
  const last = state.card(card).lastReading ?? 0;
  const { when } = state.book.lines[code];
  if (!("given" in when)) return last;
  const line = state.lines.find("after", card, code);
  const times = givenTimes(state, card, when.given);
  const first = Math.max(...times);
  if (times.length && (line === null || line.at <= first)) return Math.max(first, last);
  return line !== null && line.at > last ? last : null;
}

function givenTimes(state, card, codes) {
  const lines = codes.map((code) => state.lines.find("test", card, code));
  return lines.filter((line) => line?.state === "given").map(({ at }) => at);
}

/** Whether a line of *after* has something to speak of. */
export function mayBeGiven(state, card, code) {
  if (state.card(card).readings) return true;
  return state.suspensions.some((one) => one.card === card && one.until.includes(code));
}

/** When the dc of a card went off and when its discharge is over; null where no timer runs. */
export function discharge(state, card) {
  const { dcOff, dcS, lastDischarge } = state.card(card);
  if (dcOff === null) return null;
  // The dc of an earlier run was discharged before the latest reading.
  if (lastDischarge !== null && dcOff <= lastDischarge) return null;
  const least = state.book.settings.discharge_least_s;
  return { off: dcOff, over: dcOff + Math.trunc(Math.max(DISCHARGE_TIMES * dcS, least) * SECOND) };
}

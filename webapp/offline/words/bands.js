/**
 * In which band a value lies, and how far an angle is from the expected one.
 */

import { say } from "./catalogue.js";
import { nameOf } from "./names.js";
import { written } from "./numbers.js";
import { bounded, shown, shownU } from "./shown.js";

/** The word of the band, or of the first and the last that may hold the value. */
export function bandWords(state, { part, first, last }) {
  const [one, other] = [first, last].map((at) => part.bands[at].word);
  const [band, lastBand] = [first, last].map((at) => rangeWords(state, part.bands, at));
  const parts = { value: valueWords(state), word: one, band, last_word: other, last_band: lastBand };
  const key = first === last ? "band" : "band.several";
  const { of = "reading", label } = part;
  return of === "reading" ? say(key, parts) : say(`${key}.of`, { ...parts, name: nameOf(state, of, label) });
}

function rangeWords({ base }, bands, at) {
  const end = (value) => written(value, base);
  const [above, to] = [bands[at - 1]?.to, bands[at].to];
  if (above === undefined) return to === undefined ? say("band.any") : say("band.to", { to: end(to) });
  if (to === undefined) return say("band.above", { above: end(above) });
  return say("band.between", { above: end(above), to: end(to) });
}

/** How far an angle is from what is expected, the shorter way round. */
export function nearAngleWords(state, { verdict, part, difference }) {
  const within = written(part.within_deg, state.base);
  const parts = { value: valueWords(state), difference: shown(state, difference), within };
  return say(`near_angle.${verdict}`, parts);
}

function valueWords(state) {
  const value = shown(state, state.corrected);
  const said = state.expanded ? say("value.with_u", { value, u: shownU(state) }) : value;
  return bounded(state, said);
}

/**
 * Altitude: what is left of the rating of external air insulation.
 */

import { say } from "../words/catalogue.js";
import { figure, plain } from "../words/numbers.js";

export function altitudeWords(state, { altitude_m: altitude, points }) {
  const [last] = points.at(-1);
  const parts = { altitude: plain(altitude) };
  if (altitude > last) return [say("altitude.beyond", { ...parts, last: plain(last) })];
  if (altitude < points[0][0]) return [];
  return [say("altitude", { ...parts, share: left(points, altitude) })];
}

/** The share, joined linearly between two rows, and how it was found. */
function left(points, altitude) {
  const at = points.findLastIndex(([from]) => from <= altitude);
  const [lowM, low] = points[at];
  if (lowM === altitude) return plain(low);
  const [highM, high] = points[at + 1];
  const share = low + ((high - low) * (altitude - lowM)) / (highM - lowM);
  return say("altitude.between", {
    low: plain(low),
    high: plain(high),
    altitude: plain(altitude),
    low_m: plain(lowM),
    high_m: plain(highM),
    share: figure(share),
  });
}

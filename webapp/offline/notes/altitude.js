/**
 * Altitude: what is left of the rating of external air insulation.
 */

import { figure, plain } from "../words/numbers.js";

export function altitudeWords(state, { altitude_m: altitude, points }) {
  const [last] = points.at(-1);
  if (altitude > last) {
    return [
      `Altitude: ${plain(altitude)} m is above the last row of the table, ${plain(last)} m: ` +
        "ask the maker what external air insulation holds.",
    ];
  }
  if (altitude < points[0][0]) return [];
  return [
    `Altitude: at ${plain(altitude)} m external air insulation holds ` +
      `${left(points, altitude)} of its rated voltage. The field test level is not raised ` +
      "for it; sealed gas and vacuum take no factor.",
  ];
}

/** The share, joined linearly between two rows, and how it was found. */
function left(points, altitude) {
  const at = points.findLastIndex(([from]) => from <= altitude);
  const [lowM, low] = points[at];
  if (lowM === altitude) return plain(low);
  const [highM, high] = points[at + 1];
  const share = low + ((high - low) * (altitude - lowM)) / (highM - lowM);
  return (
    `${plain(low)} + (${plain(high)} − ${plain(low)}) × (${plain(altitude)} − ` +
    `${plain(lowM)}) / (${plain(highM)} − ${plain(lowM)}) = ${figure(share)}`
  );
}

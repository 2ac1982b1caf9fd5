/**
 * Corrections to the reference temperature.
 */

import { plain } from "./wording.js";

/**
 * The factor that brings a reading to the reference temperature, as {factor, words}.
 *
 * factor null: the correction is not defined there; words say why.
 */
export function correctionFactor(correction, temperatureC) {
  if (correction.by === "none") return { factor: 1, words: "" };
  if (temperatureC === null) {
    return { factor: null, words: "The temperature is not known." };
  }
  if (correction.by === "metal") return metal(correction, temperatureC);
  return fromTable(correction, temperatureC);
}

/**
 * Resistance of a metal: R20 = R (k + 20) / (k + T).
 *
 * Source: linear resistance law with the zero-resistance temperature -k (IEC 60028
 * for copper, 234.5 degC).
 */
function metal({ k, reference_c: referenceC, label }, temperatureC) {
  if (k + temperatureC <= 0) {
    const words = `${plain(temperatureC)} °C is below what metals know.`;
    return { factor: null, words };
  }
  const words =
    `${label}: (${plain(k)} + ${plain(referenceC)}) / ` +
    `(${plain(k)} + ${plain(temperatureC)})`;
  return { factor: (k + referenceC) / (k + temperatureC), words };
}

/** Join the table's points log-linearly; never beyond its ends. */
function fromTable({ points, label }, temperatureC) {
  const first = points[0][0];
  const last = points[points.length - 1][0];
  if (!(first <= temperatureC && temperatureC <= last)) {
    const words =
      `${plain(temperatureC)} °C is outside the correction table ` +
      `(${plain(first)} to ${plain(last)} °C).`;
    return { factor: null, words };
  }
  const next = points.findIndex(([at]) => at > temperatureC);
  const [lowC, low] = points[(next === -1 ? points.length : next) - 1];
  if (lowC === temperatureC) {
    return { factor: low, words: `${label}, at ${plain(lowC)} °C ${plain(low)}` };
  }
  const [highC, high] = points[next];
  const share = (temperatureC - lowC) / (highC - lowC);
  const factor = Math.exp(Math.log(low) + share * (Math.log(high) - Math.log(low)));
  const words =
    `${label}, between ${plain(lowC)} °C ${plain(low)} ` +
    `and ${plain(highC)} °C ${plain(high)}`;
  return { factor, words };
}

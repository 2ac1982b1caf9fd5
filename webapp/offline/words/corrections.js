/**
 * How a reading was corrected, and its uncertainty found, in words.
 */

import { figure, plain, saidUnit } from "./numbers.js";
import { say, sayU, typedWords } from "./said.js";

export function correctedWords(state, step) {
  const { correction } = state.rule;
  if (correction.by === "none") return [uncertaintyWords(state)];
  const temperatureC = state.reading.conditions.temperature_c;
  const corrected =
    `${typedWords(state)} at ${plain(temperatureC)} °C × ${figure(step.factor)} = ` +
    `${say(state, state.corrected)} at ${plain(correction.reference_c)} °C ` +
    `(${correction.label}${factorWords(correction, temperatureC)}).`;
  return [corrected, uncertaintyWords(state)];
}

function factorWords({ by, k, reference_c: referenceC, points }, temperatureC) {
  if (by === "metal") {
    return `: (${plain(k)} + ${plain(referenceC)}) / (${plain(k)} + ${plain(temperatureC)})`;
  }
  const at = points.findLastIndex(([pointC]) => pointC <= temperatureC);
  if (points[at][0] === temperatureC) return `, at ${pointWords(points[at])}`;
  return `, between ${pointWords(points[at])} and ${pointWords(points[at + 1])}`;
}

function pointWords([pointC, factor]) {
  return `${plain(pointC)} °C ${plain(factor)}`;
}

/** Why there is no factor. */
export function notCorrectedWords({ rule, reading }) {
  const temperatureC = reading.conditions.temperature_c ?? null;
  if (temperatureC === null) return "The temperature is not known.";
  const { by, points } = rule.correction;
  if (by === "metal") return `${plain(temperatureC)} °C is below what metals know.`;
  const [first, last] = [points[0][0], points.at(-1)[0]];
  return (
    `${plain(temperatureC)} °C is outside the correction table ` +
    `(${plain(first)} to ${plain(last)} °C).`
  );
}

function uncertaintyWords(state) {
  const { rule, reading, unit } = state;
  if (state.expanded === null) {
    return "No accuracy is stated for the instrument: simple acceptance.";
  }
  const { pct, fixed, unit: stated } = reading.accuracy;
  const corrected = rule.correction.by === "none" ? "" : ", corrected";
  return (
    `U = ± ${sayU(state)} (${plain(pct)} % of reading + ` +
    `${plain(fixed)} ${saidUnit(stated || unit)}, divided by √3, k = 2${corrected}): ` +
    "guarded acceptance."
  );
}

/**
 * How a reading was corrected, and its uncertainty found, in words.
 */

import { say } from "./catalogue.js";
import { figure, plain, saidUnit } from "./numbers.js";
import { shown, shownU, typedWords } from "./shown.js";

const SIMPLE_SINCE = 3; // version of rules that say that no accuracy takes part

export function correctedWords(state, { factor }) {
  const { correction } = state.rule;
  if (correction.by === "none") return [uncertaintyWords(state)];
  const temperatureC = state.reading.conditions.temperature_c;
  const corrected = say("corrected", {
    typed: typedWords(state),
    temperature: plain(temperatureC),
    factor: figure(factor),
    value: shown(state, state.corrected),
    reference: plain(correction.reference_c),
    how: factorWords(correction, temperatureC),
  });
  return [corrected, uncertaintyWords(state)];
}

function factorWords({ by, k, reference_c: referenceC, points, label, join }, temperatureC) {
  const temperature = plain(temperatureC);
  if (by === "metal") {
    const reference = plain(referenceC);
    return say("factor.metal", { label, k: plain(k), reference, temperature });
  }
  const at = points.findLastIndex(([pointC]) => pointC <= temperatureC);
  const [low, lowFactor] = points[at].map(plain);
  if (points[at][0] === temperatureC) {
    return say("factor.at", { label, temperature: low, factor: lowFactor });
  }
  const [high, highFactor] = points[at + 1].map(plain);
  const parts = { label, low, low_factor: lowFactor, high, high_factor: highFactor };
  return say(join === "linear" ? "factor.straight" : "factor.between", parts);
}

/** Why there is no factor. */
export function notCorrectedWords({ rule, reading }) {
  const temperatureC = reading.conditions.temperature_c ?? null;
  if (temperatureC === null) return say("not_corrected.unknown");
  const { by, points } = rule.correction;
  const temperature = plain(temperatureC);
  if (by === "metal") return say("not_corrected.metal", { temperature });
  const [first, last] = [points[0], points.at(-1)].map(([pointC]) => plain(pointC));
  return say("not_corrected.factor", { temperature, first, last });
}

/** A value without U: none is asked for, or none is stated, which rules before version 3 say of both. */
export const withoutU = ({ rule }) =>
  rule.decision === "simple" && rule.v >= SIMPLE_SINCE ? "uncertainty.simple" : "uncertainty.none";

function uncertaintyWords(state) {
  if (state.beyondRanges) return say("uncertainty.beyond");
  if (state.expanded === null) return say(withoutU(state));
  const id = state.rule.correction.by === "none" ? "uncertainty" : "uncertainty.corrected";
  return say(id, { u: shownU(state), accuracy: statedWords(state) });
}

/** The accuracy at the value as it is stated, and its range. */
export function statedWords({ stated, unit: read }) {
  const unit = saidUnit(stated.unit || read);
  const accuracy = say("accuracy", { pct: plain(stated.pct), fixed: plain(stated.fixed), unit });
  if (stated.low === undefined) return accuracy;
  const ends = { low: plain(stated.low), high: plain(stated.high) };
  return say("accuracy.range", { accuracy, unit, ...ends });
}

/**
 * Readings over the steps of a voltage: resistance, and leakage current.
 */

import { atLeast } from "../judge.js";
import { amount, figure, plain, tenths } from "../words/numbers.js";
import { rowOf, UNREADABLE } from "./rows.js";

const STEPS = "Step voltage";
const LEAKAGE = "Leakage current over the steps";

export function stepVoltageWords(state, { fall_pct: most }) {
  const steps = rowOf(state, "steps");
  if (steps === null) return [];
  if (steps.length === 0) return [`${STEPS}: ${UNREADABLE}`];
  const [first, last] = [steps[0], steps.at(-1)];
  if (first === last || !isExact(first) || !isExact(last)) {
    return [`${STEPS}: two exact readings are wanted, at two voltages.`];
  }
  if (!first.low) return [`${STEPS}: nothing can be compared with a resistance of 0.`];
  const share = last.low / first.low;
  const said =
    `${STEPS}: ${last.text} (${plain(last.at)} kV) / ${first.text} ` +
    `(${plain(first.at)} kV) = ${figure(share, 3)}`;
  const fall = 100 * (1 - share);
  if (atLeast(most, fall)) return [`${said}: no fall of more than ${plain(most)} %.`];
  return [
    `${said}, a fall of ${tenths(fall)} %, more than ${plain(most)} %: moisture, dirt or a ` +
      "crack may conduct at the higher voltage. Look before the voltage is raised.",
  ];
}

const isExact = ({ low, high }) => low === high;

export function leakageWords(state, { fall_pct: most }) {
  const steps = rowOf(state, "leakage");
  if (steps === null) return [];
  if (steps.length === 0) return [`${LEAKAGE}: ${UNREADABLE}`];
  const known = steps
    .filter((step) => isExact(step) && step.low)
    .map((step) => ({ ...step, gohm: step.at / step.low }))
    .filter(({ gohm }) => gohm < Infinity);
  const shown = known.map(
    ({ at, text, gohm }) => `${plain(at)} kV / ${text} µA = ${said(gohm)}`,
  );
  const resistances = known.length ? [`Apparent resistance: ${shown.join("; ")}.`] : [];
  if (known.length < 2) {
    return [...resistances, `${LEAKAGE}: two exact currents are wanted to compare steps.`];
  }
  return [...resistances, compared(known.map(({ gohm }) => gohm), most)];
}

const said = (gohm) => amount(gohm * 1e3, "MOhm");

function compared(found, most) {
  const highest = Math.max(...found.slice(0, -1));
  const fall = 100 * (1 - found.at(-1) / highest);
  if (!atLeast(most, fall)) {
    return (
      `At the last step it is ${tenths(fall)} % below ${said(highest)}, more than ` +
      `${plain(most)} %: the current rises faster than the voltage. Stop and look before ` +
      "the voltage is raised, or applied again."
    );
  }
  const spread = 100 * (1 - Math.min(...found) / Math.max(...found));
  if (atLeast(most, spread)) {
    return (
      `They differ by ${tenths(spread)} %, not more than ${plain(most)} %: the current ` +
      "rises with the voltage."
    );
  }
  return (
    `They differ by ${tenths(spread)} %, more than ${plain(most)} %: the current does not ` +
    "rise evenly with the voltage. Compare with the other phases."
  );
}

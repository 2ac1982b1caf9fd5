/**
 * Readings over the steps of a voltage: resistance, and leakage current.
 */

import { atLeast } from "../judge.js";
import { rowOf } from "../rows.js";
import { join, say } from "../words/catalogue.js";
import { amount, figure, plain, tenths } from "../words/numbers.js";

export function stepVoltageWords(state, { fall_pct: most }) {
  const steps = rowOf(state, "steps");
  if (steps === null) return [];
  const series = say("series.steps");
  if (steps.length === 0) return [say("series.unreadable", { series })];
  const [first, last] = [steps[0], steps.at(-1)];
  if (first === last || !isExact(first) || !isExact(last)) {
    return [say("step_voltage.two", { series })];
  }
  if (!first.low) return [say("step_voltage.zero", { series })];
  const share = last.low / first.low;
  const parts = {
    series,
    last: last.text,
    last_kv: plain(last.at),
    first: first.text,
    first_kv: plain(first.at),
    share: figure(share, 3),
    limit: plain(most),
  };
  const fall = 100 * (1 - share);
  if (atLeast(most, fall)) return [say("step_voltage.even", parts)];
  return [say("step_voltage.fall", { ...parts, fall: tenths(fall) })];
}

const isExact = ({ low, high }) => low === high;

export function leakageWords(state, { fall_pct: most }) {
  const steps = rowOf(state, "leakage");
  if (steps === null) return [];
  const series = say("series.leakage");
  if (steps.length === 0) return [say("series.unreadable", { series })];
  const known = steps
    .filter((step) => isExact(step) && step.low)
    .map((step) => ({ ...step, gohm: step.at / step.low }))
    .filter(({ gohm }) => gohm < Infinity);
  const words = known.map(stepWords);
  const said = words.length
    ? [say("leakage.resistance", { steps: join("leakage.steps", words) })]
    : [];
  if (known.length < 2) return [...said, say("leakage.two", { series })];
  return [...said, comparedWords(known.map(({ gohm }) => gohm), most)];
}

/** Whether the current falls while the level is held. */
export function heldLeakageWords(state) {
  const steps = rowOf(state, "held_leakage");
  if (steps === null) return [];
  const series = say("series.held_leakage");
  if (steps.length === 0) return [say("series.unreadable", { series })];
  const known = steps.filter(isExact);
  if (known.length < 2) return [say("leakage.two", { series })];
  const [first, last] = [known[0], known.at(-1)];
  const id = last.low > first.low ? "held_leakage.rises" : "held_leakage.falls";
  return [say(id, { first: first.text, first_min: plain(first.at), last: last.text, last_min: plain(last.at) })];
}

function stepWords({ at, text, gohm }) {
  return say("leakage.step", { voltage: plain(at), current: text, resistance: shown(gohm) });
}

const shown = (gohm) => amount(gohm * 1e3, "MOhm");

function comparedWords(found, most) {
  const limit = plain(most);
  const highest = Math.max(...found.slice(0, -1));
  const fall = 100 * (1 - found.at(-1) / highest);
  if (!atLeast(most, fall)) {
    return say("leakage.fall", { fall: tenths(fall), highest: shown(highest), limit });
  }
  const spread = 100 * (1 - Math.min(...found) / Math.max(...found));
  const id = atLeast(most, spread) ? "leakage.even" : "leakage.uneven";
  return say(id, { spread: tenths(spread), limit });
}

/**
 * Rows of readings at one point, as models/judging/series.py reads them.
 */

import { atLeast } from "./judge.js";
import { SERIES } from "./tables.js";
import { parseValue, splitSign, WHITE_SPACE } from "./typed.js";

/** Whether two numbers are the same. */
export const near = (a, b) => atLeast(a, b) && atLeast(b, a);

const READ = new Map(); // by kind: the row read last, since every word of a rule asks for it
const POINTS = new WeakMap(); // by steps

/** The row in a condition, [{at, text, low, high}]: null without one, [] if unreadable. */
export function rowOf({ reading }, name) {
  const text = reading.conditions[name] ?? null;
  if (text === null) return null;
  if (READ.get(name)?.text !== text) READ.set(name, { text, steps: stepsOf(String(text), SERIES[name]) });
  return READ.get(name).steps;
}

/** The reading at a step, or undefined. */
export const stepAt = (steps, at) => steps.find((step) => near(step.at, at));

function stepsOf(text, kind) {
  const pairs = text.split(WHITE_SPACE).filter(Boolean);
  if (text.length > kind.longest || pairs.length > kind.most) return [];
  const steps = pairs.map((pair) => step(pair, kind));
  const rising = steps.every(
    (one, index) => one && (index === 0 || !atLeast(steps[index - 1].at, one.at)),
  );
  return rising ? steps : [];
}

function step(pair, { from_zero: fromZero, signed }) {
  const colon = pair.indexOf(":");
  const at = number(pair.slice(0, Math.max(0, colon)));
  const shown = number(pair.slice(colon + 1));
  if (!at || !shown || at.low !== at.high || at.low < 0) return null;
  if (at.low === 0 && !fromZero) return null;
  if (!signed && (shown.low === -Infinity ? shown.high : shown.low) < 0) return null;
  const text = splitSign(pair.slice(colon + 1)).join("");
  return { at: at.low, text, low: shown.low, high: shown.high };
}

/** What was typed as {low, high}; null where it is no number. */
function number(text) {
  try {
    const value = parseValue(text);
    return value.outcome ? null : value;
  } catch {
    return null;
  }
}

/** The number shown at a step, or the bound that is known. */
export const boundOf = ({ low, high }) => (low === -Infinity ? high : low);

export const isExact = ({ low, high }) => low === high;

/** What has a place on a curve of this kind, [[at, value]]: no bounds, and no logarithm of 0. */
export function pointsOf(name, steps) {
  if (!POINTS.has(steps)) POINTS.set(steps, placed(name, steps));
  return POINTS.get(steps);
}

function placed(name, steps) {
  const points = steps.filter(isExact).map(({ at, low }) => [at, low]);
  return SERIES[name].scale === "log" ? points.filter((point) => Math.min(...point) > 0) : points;
}

/** The value at a place between two steps, joined straight; NaN beyond, and beside a bound. */
export function straightAt(steps, at) {
  const here = stepAt(steps, at);
  if (here) return isExact(here) ? here.low : NaN;
  const next = steps.findIndex((step) => step.at > at);
  if (next < 1) return NaN;
  const [before, after] = [steps[next - 1], steps[next]];
  if (!isExact(before) || !isExact(after)) return NaN;
  return before.low + ((at - before.at) / (after.at - before.at)) * (after.low - before.low);
}

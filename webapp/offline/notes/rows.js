/**
 * Rows of readings at one point, as models/judging/series.py reads them.
 */

import { atLeast } from "../judge.js";
import { parseValue, splitSign, WHITE_SPACE } from "../typed.js";
import { say } from "../words/catalogue.js";

// More readings, or characters, are no row that somebody read; an instrument's may be longer.
const READ = { most: 40, longest: 600 };
const RECORDED = { most: 250, longest: 4000, fromZero: true };
const KINDS = {
  gas_log: { ...READ, fromZero: true },
  tan_delta: { ...READ, signed: true },
  coil_record: RECORDED,
  travel: { ...RECORDED, signed: true },
};

/** What is said of a row that nobody can read. */
export const unreadableWords = (series) => say("series.unreadable", { series });

/** Whether two numbers are the same. */
export const near = (a, b) => atLeast(a, b) && atLeast(b, a);

/** The row in a condition, [{at, text, low, high}]: null without one, [] if unreadable. */
export function rowOf({ reading }, name) {
  const text = reading.conditions[name] ?? null;
  return text === null ? null : stepsOf(String(text), KINDS[name] ?? READ);
}

/** The step at so many seconds or kV, or undefined. */
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

function step(pair, { fromZero, signed }) {
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

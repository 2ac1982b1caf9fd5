/**
 * How a reading was compared with what is expected, and with the baseline.
 */

import { saidUnitOf } from "../said.js";
import { join, say } from "./catalogue.js";
import { highWords, lowWords } from "./limits.js";
import { isDerived, nameOf } from "./names.js";
import { amount, asFactor, plain, written } from "./numbers.js";
import { shown } from "./shown.js";

/** What is expected, how it was found, and how far from it is allowed. */
export function expectedValueWords(state, { part, expected, within }) {
  const parts = {
    expected: shown(state, expected),
    margin: within ? marginWords(state, part, amount(within, state.base, expected)) : "",
  };
  const { expected: source } = part;
  if (typeof source === "number") return say("expected_value", parts);
  parts.what = nameOf(state, source.on, source.label);
  parts.condition = `${parts.what} ${givenWords(state, source)}`.trim();
  if (source.points) return say("expected_value.at", parts);
  const { times = 1, plus = 0 } = source;
  return say(`expected_value.${(!within && edge(part)) || howFound(times, plus)}`, { ...parts, times: asFactor(times), plus: asFactor(plus) });
}

/** A multiple that is itself the limit, on one side. */
function edge({ expected, below = true, above = true }) {
  if (below === above || expected.plus || expected.times === undefined) return "";
  return below ? "least" : "most";
}

/** A multiple, a sum, both, or the condition itself. */
function howFound(times, plus) {
  if (times === -1 && !plus) return "opposite";
  if (times === 1) return plus ? "plus" : "itself";
  return plus ? "of" : "times";
}

/** How far from it is allowed, and on which side. */
function marginWords(state, part, within) {
  const { below = true, above = true } = part;
  const sign = below && !above ? "−" : "+";
  return say("expected_value.margin", { sign: below === above ? "±" : sign, within, share: shareWords(state, part) });
}

function shareWords(state, { pct = 0, within_deg: within = 0, fixed = within }) {
  if (!fixed) return say("expected_value.share", { pct: asFactor(pct) });
  if (!pct) return say("expected_value.fixed");
  return say("expected_value.greater", { pct: asFactor(pct), fixed: shown(state, fixed) });
}

/** The value that the expected one is found at; empty where it is not known. */
function givenWords({ values, rule, reading }, { on, unit }) {
  const value = values[on];
  if (!value) return "";
  if (isDerived(rule, on)) return amount(value.corrected, value.base);
  const named = typeof rule.said === "object" ? saidUnitOf(rule, reading) : null;
  return written(value.corrected, unit || named || "");
}

/** Why nothing is expected: not known, or beyond the points. */
export function noExpectedWords(state, { part }) {
  const { on, label, points = [[0]] } = part.expected;
  const what = nameOf(state, on, label);
  const value = givenWords(state, part.expected);
  if (!value) return say("no_expected", { what });
  const [first, last] = [points[0], points.at(-1)].map(([at]) => plain(at));
  return say("no_expected.beyond", { what, value, first, last });
}

export function leastOfBaselineWords(state, step) {
  return lowWords(withBoth(state, step), step, limitName(state, step, step.part.low_times));
}

export function mostOfBaselineWords(state, step) {
  return highWords(withBoth(state, step), step, limitName(state, step, step.part.high_times));
}

function limitName(state, { code, part }, times) {
  return say(`limit.${code}`, { times: plain(times), baseline: shown(state, part.value) });
}

/** The reading with U of both, the baseline's with its own. */
const withBoth = (state, { part, guard }) => ({ ...state, expanded: guard * part.value });

/** What was expected and what was observed. */
export function expectedWords(state, { verdict, part, outcome }) {
  const { met, missed, word } = part;
  if (outcome === "not_fitted" && ![...met, ...missed].includes(outcome)) {
    return say(`expected.not_fitted.${verdict}`);
  }
  if (!word && met.includes("as_expected") && ["as_expected", "not_as_expected"].includes(outcome)) return say(`expected.${outcome}`);
  const words = met.map((one) => say(`outcome.${one}`));
  const wanted = word ?? (words.length > 0 ? join("list.or", words) : "");
  return say(`expected.${verdict}`, { met: wanted, outcome: say(`outcome.${outcome}`) });
}

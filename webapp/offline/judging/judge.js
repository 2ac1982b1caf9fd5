/**
 * Judge readings: the one path from what was typed to a verdict.
 */

import { expandedUncertainty } from "./accuracy.js";
import { compareHigh, compareLow, timing, withstand } from "./bounds.js";
import { correctionFactor } from "./corrections.js";
import { compareLowest, lowestOf } from "./group.js";
import { atLeast } from "./near.js";
import { PROCEDURES } from "./procedures.js";
import { saidUnit } from "./quantities.js";
import { checkReading } from "./reading_check.js";
import { applies, checkRule } from "./rules.js";
import { inRuleUnit, OUTSIDE, State, UNJUDGED } from "./state.js";
import { boundOf } from "./values.js";
import { figure, plain } from "./wording.js";

const CONDITION_WORDS = new Map([
  ["test_kv", "test voltage"],
  ["test_current_a", "test current"],
]);

/**
 * Judge items as one group, in their order; an item is {rule, reading}.
 *
 * Throws InputError when a text cannot be a reading of its procedure at all, and
 * CriteriaError for a rule that this reader does not know; everything else that is
 * unknown leaves the reading unjudged with the reason.
 */
export function judge(items) {
  const states = items.map(({ rule, reading }) => prepare(rule, reading));
  const lowest = lowestOf(states.filter(compared));
  for (const state of states) {
    if (!state.stopped) applyBounds(state, lowest);
  }
  return states.map((state) => state.judgement());
}

/** Read, pass the gates and correct: everything that needs no other reading. */
function prepare(rule, reading) {
  checkRule(rule);
  const procedure = PROCEDURES.get(rule.procedure);
  const { value, unit } = checkReading(procedure, reading.text, reading.unit);
  const state = new State(rule, reading, value, unit);
  sayReading(state);
  if (value.outcome === "broke_down") {
    state.find(OUTSIDE, "It broke down.");
    for (const bound of applying(state)) state.source(bound.cite);
    return state;
  }
  passGates(state);
  if (state.numeric) correct(state);
  return state;
}

function sayReading(state) {
  const { value } = state;
  if (!state.numeric) {
    state.working.push(`Observed: ${value.outcome.replaceAll("_", " ")}.`);
  } else if (!state.exact) {
    const side = value.low === -Infinity ? "at most" : "at least";
    state.working.push(
      `Read ${state.typed()}: ${side} ${plain(boundOf(value))} ` +
        `${saidUnit(state.unit)}, and no more is known.`,
    );
  }
}

function passGates(state) {
  const { conditions } = state.reading;
  for (const part of state.rule.unjudged) {
    if (applies(part, conditions)) state.find(UNJUDGED, part.reason);
  }
  for (const gate of state.rule.gates) {
    if (!applies(gate, conditions)) continue;
    const value = state.condition(gate.on);
    if ("at_least" in gate) {
      passNumber(state, gate, value);
    } else if (value === null) {
      state.find(UNJUDGED, gate.reason);
    }
  }
}

function passNumber(state, gate, value) {
  const what = CONDITION_WORDS.get(gate.on) ?? gate.on;
  const wanted = `${plain(gate.at_least)} ${gate.unit}`;
  if (value === null) {
    state.find(UNJUDGED, `The ${what} is not known; ${wanted} is wanted.`);
  } else if (!atLeast(value, gate.at_least)) {
    state.find(
      UNJUDGED,
      `The ${what} ${plain(value)} ${gate.unit} is below the ${wanted} ` +
        "that is wanted.",
    );
  }
}

function correct(state) {
  const { rule } = state;
  [state.low, state.high] = inRuleUnit(state.value, state.unit, rule);
  expand(state);
  const temperatureC = state.condition("temperature_c");
  const { factor, words } = correctionFactor(rule.correction, temperatureC);
  state.factor = factor;
  if (factor === null) {
    if (temperatureC !== null || !state.stopped) state.find(UNJUDGED, words);
    return;
  }
  state.low *= factor;
  state.high *= factor;
  if (state.expanded !== null) state.expanded *= factor;
  if (rule.correction.by !== "none") {
    state.source(rule.correction.cite);
    state.working.push(
      `${state.typed()} at ${plain(temperatureC)} °C × ${figure(factor)} = ` +
        `${state.say(state.shown)} at ${plain(rule.correction.reference_c)} °C ` +
        `(${words}).`,
    );
  }
  sayUncertainty(state);
}

function expand(state) {
  const { accuracy } = state.reading;
  if (!accuracy || state.rule.decision === "simple") return;
  const expanded = expandedUncertainty(accuracy, boundOf(state.value), state.unit);
  const span = { low: expanded, high: expanded };
  [state.expanded] = inRuleUnit(span, state.unit, state.rule);
}

function sayUncertainty(state) {
  const { accuracy } = state.reading;
  if (!accuracy || state.expanded === null) {
    state.working.push("No accuracy is stated for the instrument: simple acceptance.");
    return;
  }
  const fixed = `${plain(accuracy.fixed)} ${saidUnit(accuracy.unit || state.unit)}`;
  const corrected = state.rule.correction.by === "none" ? "" : ", corrected";
  state.working.push(
    `U = ± ${state.sayU()} (${plain(accuracy.pct)} % of reading + ` +
      `${fixed}, divided by √3, k = 2${corrected}): guarded acceptance.`,
  );
}

/** Whether the reading takes part in the comparison of its group. */
function compared(state) {
  if (state.stopped || !state.numeric) return false;
  return state.rule.bounds.some(({ kind }) => kind === "high_of_lowest");
}

function applying(state) {
  return state.rule.bounds.filter((bound) => applies(bound, state.reading.conditions));
}

function applyBounds(state, lowest) {
  const bounds = applying(state);
  const alone = bounds.some(({ kind }) => kind === "high");
  for (const bound of bounds) {
    state.source(bound.cite);
    applyBound(state, bound, lowest, alone);
  }
  if (!state.stopped) {
    state.find(UNJUDGED, "No criterion applies to this reading.");
  }
}

function applyBound(state, bound, lowest, alone) {
  if (bound.kind === "withstand") {
    withstand(state, bound);
  } else if (bound.kind === "operating_time") {
    timing(state, bound);
  } else if (!state.numeric) {
    state.find(UNJUDGED, "A number is wanted here, not an outcome.");
  } else if (bound.kind === "low") {
    state.narrow({ low: bound.value });
    compareLow(state, bound.value);
  } else if (bound.kind === "high") {
    state.narrow({ high: bound.value });
    compareHigh(state, bound.value);
  } else if (lowest !== null) {
    compareLowest(state, bound, lowest, alone);
  }
}

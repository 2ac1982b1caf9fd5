/**
 * Gas: a pressure at 20 degC and the density behind it, a leak rate, moisture, in words.
 */

import { pressureKpa, refusalOf, vapourAt } from "../gas.js";
import { say } from "./catalogue.js";
import { statedWords, withoutU } from "./corrections.js";
import { nameOf } from "./names.js";
import { amount, figure, plain } from "./numbers.js";
import { shownU } from "./shown.js";

const ZERO_C = 273.15; // K
const HOURS_A_DAY = 24;
const PRESSURES = ["pressure", "most"]; // of a refusal; the others are settings
const DIGITS = 6; // of a density and of the pressures of a rate
const UNITS = { frost_point: "degC", ppmv: "ppmv", pa: "Pa" };

/** The equation of state with its numbers, to be followed with a calculator. */
function equationWords(gas, density, celsius) {
  const { r, a0, a, b0, b } = gas;
  const kelvin = plain(celsius + ZERO_C);
  const d = figure(density, DIGITS);
  const kpa = figure(pressureKpa(gas, density, celsius));
  if (!a0 && !b0) return `${plain(r)} × ${d} × ${kelvin} Pa = ${kpa} kPa`;
  const volume = figure(b0 * density * (1 - b * density));
  const attraction = figure(a0 * (1 - a * density));
  return `${plain(r)} × ${d} × ${kelvin} × (1 + ${volume}) − ${attraction} × ${d}² Pa = ${kpa} kPa`;
}

/** The density, the pressure at the reference temperature, and U. */
export function carriedWords(state, { density }) {
  const { correction } = state.rule;
  const { pressure } = state;
  const celsius = state.reading.conditions.temperature_c;
  const reference = correction.reference_c;
  const read = say("carried.density", {
    pressure: amount(pressure.corrected, pressure.base),
    temperature: plain(celsius),
    density: figure(density),
    gas: correction.label,
    equation: equationWords(correction, density, celsius),
  });
  const carried = say("carried", {
    reference: plain(reference),
    equation: equationWords(correction, density, reference),
    value: amount(state.corrected, "kPa"),
  });
  return [read, carried, uncertaintyWords(state)];
}

function uncertaintyWords(state) {
  if (state.beyondRanges) return say("uncertainty.beyond");
  if (state.expanded === null) return say(withoutU(state));
  const gauge = state.stated ? statedWords(state) : say("carried.u.unknown");
  return say("carried.u", { u: shownU(state), gauge, thermometer: thermometerWords(state) });
}

function thermometerWords({ rule, reading }) {
  const { conditions, conditions_accuracy: accuracies = {} } = reading;
  const half = accuracies.temperature_c?.fixed ?? conditions[rule.correction.thermometer];
  return Number.isFinite(half) ? `${plain(half)} K` : say("carried.u.unknown");
}

/** Why the pressure is not carried. */
export function notCarriedWords({ rule, reading, pressure }) {
  const celsius = reading.conditions.temperature_c;
  if (!Number.isFinite(celsius)) return say("not_corrected.unknown");
  const { code, numbers } = refusalOf(rule.correction, pressure, celsius);
  const said = ([name, one]) => [name, PRESSURES.includes(name) ? figure(one) : plain(one)];
  const parts = Object.entries(numbers).map(said);
  return say(code, Object.fromEntries(parts));
}

function rateWords(state, part, { name, value, of }) {
  const { first } = state.values[part.name];
  const { conditions } = state.reading;
  const began = say("derived.rate.first", {
    temperature: plain(conditions[part.first_c]),
    density: figure(first.density),
    reference: plain(state.rule.correction.reference_c),
    value: amount(first.value.corrected, "kPa"),
  });
  const rate = say("derived.rate", {
    name,
    first: figure(first.value.corrected, DIGITS),
    second: figure(of.corrected, DIGITS),
    year: plain(part.year_h),
    hours: plain(conditions[part.over_h]),
    value,
  });
  return [began, rate];
}

function vapourWords(state, part, { name, value, of }) {
  const at = state.reading.conditions[part.at];
  const found = vapourAt(part, of.corrected, at);
  const share = `${figure(found.share)} ppmv`;
  const said = [];
  if (found.there !== null) {
    said.push(
      say(`derived.vapour.from.${part.from}`, {
        of: amount(of.corrected, UNITS[part.from]),
        pressure: figure(found.there),
        at: plain(at),
        share,
        a: plain(part.a),
        b_c: plain(part.b_c),
        at_zero: plain(part.e0_pa),
      }),
    );
  }
  const to = part.to === "ppmv" || found.here === null ? "ppmv" : part.to;
  const there = to === "ppmv" ? {} : { to: plain(part.to_kpa), pressure: figure(found.here) };
  return [...said, say(`derived.vapour.to.${to}`, { name, value, share, ...there })];
}

/** What these words of a rule derive, in words, by the word. */
export const GAS_WORDS = { rate: rateWords, vapour: vapourWords };

/** That U is too great to tell the limit, and when it could be told. */
export function unresolvedWords(state, { part }) {
  const { corrected, expanded, base } = state;
  const value = amount(corrected, base);
  const limit = amount(part.value, base);
  if (expanded === null) return say("unresolved.unknown", { value, limit });
  const said = say("unresolved", { value, u: shownU(state), limit });
  const told = state.values[part.of]?.told ?? null;
  if (told === null) return said;
  const hours = told / part.value;
  const time = { hours: figure(hours), days: figure(hours / HOURS_A_DAY) };
  return [said, say("unresolved.wait", time)];
}

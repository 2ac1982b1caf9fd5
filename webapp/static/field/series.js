// Rows of readings at one point, as models/judging/series.py reads them.

import { figure, figuresOfRow, InputError, parseValue, plain } from "/offline/reader.js";

const READ_OFF = ["excitation", "fall"]; // a rule reads their value off them: their ends say nothing
const SAME = 1e-9; // relative: as far apart as two writings of one number can be

/** Return the kinds of row that a point may carry under these conditions. */
export function kindsFor(procedure, conditions) {
  const fits = ([name, value]) => conditions[name] === value;
  // A document that an older server sent names one pair.
  return procedure.series.filter(({ only }) => !only?.length || (Array.isArray(only[0]) ? only : [only]).some(fits));
}

/** Return the rows of a kind before anything is typed: [step, value] as text. */
export function blankRows(kind, conditions = {}) {
  const usual = usualSteps(kind, conditions).map((at) => [String(at), ""]);
  return usual.length ? usual : Array.from({ length: kind.rows ?? 4 }, () => ["", ""]);
}

/** The steps that a card offers: always the same, or shares of a condition once it is known. */
function usualSteps({ usual, shares, share_of: name }, conditions) {
  const whole = conditions[name];
  return Number.isFinite(whole) ? shares.map((share) => Number((share * whole).toPrecision(4))) : usual;
}

/** Return what is typed: the steps that can be read, and what is wrong by row. */
export function readRows(rows, kind = {}) {
  const steps = [];
  const faults = new Map();
  rows.forEach(([atText, text], index) => {
    if (!text.trim()) return;
    try {
      const at = stepOf(atText, kind);
      const last = steps.at(-1)?.at;
      if (at <= last * (1 + SAME)) throw new Error(`This comes after ${last}: put the steps in rising order.`);
      steps.push({ at, ...valueOf(text, kind) });
    } catch (error) {
      faults.set(index, faultWords(error));
    }
  });
  return { steps, faults };
}

/** Return the steps of a row that was sent as text. */
export function readText(text, kind) {
  return readRows(text.split(" ").map((pair) => pair.split(":")), kind).steps;
}

/** Return the text that a row is sent as. */
export function rowText(steps) {
  return steps.map(({ at, text }) => `${at}:${text}`).join(" ");
}

/** Return the rows of a reading that came back, as they were typed, by kind. */
export function givenBack(procedure, conditions) {
  const found = procedure.series.filter(({ name }) => conditions[name]);
  return Object.fromEntries(found.map((kind) => [kind.name, rowsOf(kind, conditions[kind.name])]));
}

/** Return the rows of a text, laid into those that a card offers. */
function rowsOf(kind, text) {
  const given = text.split(" ").map((pair) => pair.split(":"));
  const offered = kind.usual.map(String).filter((at) => !given.some(([one]) => one === at));
  return [...given, ...offered.map((at) => [at, ""])].sort((a, b) => a[0] - b[0]);
}

/** Return R(10 min) / R(1 min) as {low, high}, or null. */
export function polarizationIndex(steps) {
  return ratio(steps, 600, 60);
}

/** Return R(60 s) / R(30 s) as {low, high}, or null. */
export function absorptionRatio(steps) {
  return ratio(steps, 60, 30);
}

/** Return a ratio in words: 1.43, at least 2.1. */
export function ratioWords({ low, high }) {
  if (low === high) return figure(low, 3);
  return low === -Infinity ? `at most ${figure(high, 3)}` : `at least ${figure(low, 3)}`;
}

/** Return what a row comes to: [label, figure] of each quotient that can be formed. */
export function quotients(kind, steps, conditions) {
  if (kind.name === "timed") {
    return [
      ["Absorption ratio, 60 s over 30 s", absorptionRatio(steps)],
      ["Polarization index, 10 min over 1 min", polarizationIndex(steps)],
    ].flatMap(([label, found]) => (found ? [[label, ratioWords(found)]] : []));
  }
  const figures = figuresOfRow(kind.name, steps, conditions);
  if (figures) return figures.map(([label, value, unit]) => [label, `${figure(value)} ${unit}`]);
  if (steps.length < 2 || READ_OFF.includes(kind.name)) return [];
  const [first, last] = [steps[0], steps.at(-1)];
  const ends = `${plain(last.at)} over ${plain(first.at)} ${kind.step_unit}`;
  const shown = ratio(steps, last.at, first.at);
  return [
    kind.name === "leakage" && [`Voltage, ${ends}`, figure(last.at / first.at, 3)],
    shown && [`${kind.label} at ${ends}`, ratioWords(shown)],
  ].filter(Boolean);
}

function ratio(steps, late, early) {
  const above = steps.find(({ at }) => at === late);
  const below = steps.find(({ at }) => at === early);
  if (!above || !below) return null;
  const low = quotient(above.low, below.high, -Infinity);
  const high = quotient(above.high, below.low, Infinity);
  return low === -Infinity && high === Infinity ? null : { low, high };
}

function quotient(above, below, unknown) {
  return Number.isFinite(above) && Number.isFinite(below) && below ? above / below : unknown;
}

function faultWords(error) {
  return error instanceof InputError ? error.faults.map(({ message }) => message).join(" ") : error.message;
}

function stepOf(text, kind) {
  if (!text.trim()) throw new Error("Say at which step.");
  const { low, high, outcome } = parseValue(text);
  if (outcome || low !== high) throw new Error("Enter a plain number as the step.");
  if (low < 0 || (low === 0 && !kind.from_zero)) throw new Error("A step must be above zero.");
  return low;
}

function valueOf(text, kind) {
  const { low, high, outcome } = parseValue(text);
  if (outcome) throw new Error("Enter a number.");
  if (!kind.signed && Math.max(low, high === Infinity ? low : high) < 0) throw new Error("This must not be below zero.");
  return { text: text.replace(/\s/gu, ""), low, high };
}

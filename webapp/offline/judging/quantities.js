/**
 * Units: the symbols people type, the quantity they belong to, conversion.
 */

import { InputError } from "./errors.js";

const RESISTANCE = "resistance";
const TIME = "time";
const PRESSURE = "pressure";

/**
 * Factor to the quantity's first unit as numerator and denominator. Exact powers of
 * ten but for the torr: 101 325 Pa / 760 (SI brochure, 9th edition, note).
 */
const UNITS = new Map([
  ["uOhm", { quantity: RESISTANCE, times: 1, over: 1e12 }],
  ["mOhm", { quantity: RESISTANCE, times: 1, over: 1e9 }],
  ["Ohm", { quantity: RESISTANCE, times: 1, over: 1e6 }],
  ["kOhm", { quantity: RESISTANCE, times: 1, over: 1e3 }],
  ["MOhm", { quantity: RESISTANCE, times: 1, over: 1 }],
  ["GOhm", { quantity: RESISTANCE, times: 1e3, over: 1 }],
  ["TOhm", { quantity: RESISTANCE, times: 1e6, over: 1 }],
  ["s", { quantity: TIME, times: 1, over: 1 }],
  ["ms", { quantity: TIME, times: 1, over: 1e3 }],
  ["Pa", { quantity: PRESSURE, times: 1, over: 1 }],
  ["mbar", { quantity: PRESSURE, times: 100, over: 1 }],
  ["Torr", { quantity: PRESSURE, times: 101325, over: 760 }],
]);

const FIRST = new Map([
  [RESISTANCE, "MOhm"],
  [TIME, "s"],
  [PRESSURE, "Pa"],
]);

// Greek omega, ohm sign, micro sign, Greek mu: all of them are typed.
const TYPED = [
  ["\u03a9", "Ohm"],
  ["\u2126", "Ohm"],
  ["\u00b5", "u"],
  ["\u03bc", "u"],
];

const OHM_SPELLINGS = ["ohms", "Ohms", "ohm", "OHM"];

const OTHER_SPELLINGS = new Map([
  ["torr", "Torr"],
  ["pa", "Pa"],
  ["sec", "s"],
  ["msec", "ms"],
]);

const SAID = new Map([
  ["uOhm", "\u00b5\u03a9"],
  ["mOhm", "m\u03a9"],
  ["Ohm", "\u03a9"],
  ["kOhm", "k\u03a9"],
  ["MOhm", "M\u03a9"],
  ["GOhm", "G\u03a9"],
  ["TOhm", "T\u03a9"],
]);

/** What Python calls white space; \s knows neither 1C to 1F nor 85, but FEFF. */
const WHITE_SPACE =
  "\\t-\\r\\x1c-\\x20\\x85\\xa0\\u1680\\u2000-\\u200a" +
  "\\u2028\\u2029\\u202f\\u205f\\u3000";
const EVERY_SPACE = new RegExp(`[${WHITE_SPACE}]+`, "g");

/**
 * Our name of the unit that a symbol stands for, or null.
 *
 * MΩ, Mohm and MOhm are one unit; M and m are not.
 */
export function unitName(symbol) {
  let name = symbol.replace(EVERY_SPACE, "");
  for (const [typed, ours] of TYPED) name = name.replaceAll(typed, ours);
  const written = OHM_SPELLINGS.find((spelling) => name.endsWith(spelling));
  if (written) name = `${name.slice(0, -written.length)}Ohm`;
  name = OTHER_SPELLINGS.get(name) ?? name;
  return UNITS.has(name) ? name : null;
}

/** The unit as people write it. */
export function saidUnit(unit) {
  return SAID.get(unit) ?? unit ?? "";
}

/** A value in the unit `to`; InputError when the two are not of one quantity. */
export function convert(value, unit, to) {
  const given = UNITS.get(unit);
  const wanted = UNITS.get(to);
  if (given.quantity !== wanted.quantity) {
    const message = `${saidUnit(unit)} is not a ${wanted.quantity}.`;
    throw new InputError({ field: "unit", message });
  }
  return (value * (given.times * wanted.over)) / (given.over * wanted.times);
}

/** A value in the first unit of its quantity: MOhm, s or Pa. */
export function toBase(value, unit) {
  return convert(value, unit, FIRST.get(UNITS.get(unit).quantity));
}

// The unit of an answer, and its figure in the unit of the field: shifted, never rounded.

import { convert, quantityOf, saidUnit, unitName } from "/offline/reader.js";
import { WireError } from "./lines.js";

// Suffixes of IEEE 488.2-1992, table of suffix units (from memory). Their case says nothing:
// MOHM is a megohm, though M is milli before every other unit.
const SUFFIXES = {
  OHM: "Ohm", UOHM: "uOhm", KOHM: "kOhm", MOHM: "MOhm", MAOHM: "MOhm", GOHM: "GOhm", TOHM: "TOhm",
  S: "s", MS: "ms",
  PAL: "Pa", PA: "Pa", MBAR: "mbar", TORR: "Torr",
  V: "V", MV: "mV", KV: "kV", A: "A", UA: "uA", MA: "mA",
};
const SMALL_M = /^m(ohm)$/i;
const PLAIN_FROM = -5; // powers of ten that are written without an exponent
const PLAIN_TO = 9;

/** The unit that an answer is in. *stated*: what the connection says, "" where the answer does. */
export function unitOfAnswer(suffix, stated) {
  if (!suffix) {
    if (stated) return stated;
    throw new WireError("The answer has no unit. Say on the page of the wire in which unit it answers.");
  }
  const said = unitOfSuffix(suffix, stated);
  if (stated && said !== stated) {
    throw new WireError(`The instrument answered in ${saidUnit(said)}, and the page of the wire says ${saidUnit(stated)}.`);
  }
  return said;
}

function unitOfSuffix(suffix, stated) {
  // A small m may mean milli or, by the standard, mega: a thousand million apart.
  if (SMALL_M.test(suffix) && suffix.startsWith("m")) {
    if (["mOhm", "MOhm"].includes(stated)) return stated;
    throw new WireError(`“${suffix}” may be mΩ or MΩ. Say on the page of the wire in which unit it answers.`);
  }
  const unit = SUFFIXES[suffix.toUpperCase()] ?? unitName(suffix);
  if (!unit) throw new WireError(`The unit “${suffix}” is not known here.`);
  return unit;
}

/**
 * Return {text, unit}: the figure as the field takes it. *wanted* is the unit chosen at the
 * field, *units* are those that it takes. Digits stay as they came.
 */
export function forField({ text, unit, wanted, units }) {
  if (quantityOf(unit) !== quantityOf(wanted)) {
    throw new WireError(`The instrument answered in ${saidUnit(unit)}; this point is read in ${saidUnit(wanted)}.`);
  }
  const power = powerBetween(unit, wanted);
  if (power !== null) return { text: shifted(text, power), unit: wanted };
  if (units.includes(unit)) return { text: shifted(text, 0), unit };
  throw new WireError(`The instrument answered in ${saidUnit(unit)}, which this point does not take.`);
}

/** The power of ten from one unit to another; null where it is none (mbar to Torr). */
function powerBetween(from, to) {
  const power = Math.round(Math.log10(convert(1, from, to)));
  return Math.abs(convert(1, from, to) / 10 ** power - 1) < 1e-9 ? power : null;
}

/** Move the point of a number by *power*, digit for digit: "+4.810E+09", -9 is "4.810". */
export function shifted(text, power) {
  const [, sign, whole, part = "", exponent = "0"] = /^([+-]?)(\d*)\.?(\d*)(?:e([+-]?\d+))?$/i.exec(text);
  const digits = whole + part;
  if (!/[1-9]/.test(digits)) return plain(digits, whole.length); // nothing is nothing in any unit
  const at = whole.length + Number(exponent) + power; // where the point stands among the digits
  const minus = sign === "-" ? "-" : "";
  return minus + (fitsPlain(digits, at) ? plain(digits, at) : scaled(digits, at));
}

function fitsPlain(digits, at) {
  const power = at - digits.search(/[1-9]/) - 1; // of the first figure that is not 0
  return power >= PLAIN_FROM && power < PLAIN_TO && at - digits.length <= 3;
}

function plain(digits, at) {
  const padded = "0".repeat(Math.max(0, 1 - at)) + digits + "0".repeat(Math.max(0, at - digits.length));
  const point = Math.max(at, 1);
  const whole = padded.slice(0, point).replace(/^0+(?=\d)/, "");
  const part = padded.slice(point);
  return part ? `${whole}.${part}` : whole;
}

function scaled(digits, at) {
  const first = digits.search(/[1-9]/);
  const [head, ...rest] = digits.slice(first);
  const power = at - first - 1;
  return `${head}${rest.length ? "." : ""}${rest.join("")}${power ? `e${power}` : ""}`;
}

// What the tablet remembers of an instrument's wire. It stays on the tablet.

import { quantityOf } from "/offline/reader.js";
import { keepSetting, setting } from "../kept/settings.js";
import { QUERIES } from "./scpi.js";

export const BAUDS = [1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200];
export const BITS = [8, 7];
export const PARITIES = ["none", "even", "odd"];
export const STOPS = [1, 2];
export const ENDS = { lf: "LF", cr: "CR", crlf: "CR and LF" };
export const LONGEST_WAIT_S = 120;

// Common practice of serial ports; an instrument's manual says its own.
const FIRST = { baud: 9600, bits: 8, parity: "none", stop: 1, end: "lf", wait: 5, errors: true };

/** The settings of an instrument's wire: {baud, bits, parity, stop, end, wait, errors, queries}. */
export function wireOf(instrumentId) {
  const kept = setting(`wire:${instrumentId}`, {});
  return { ...FIRST, ...kept, queries: kept.queries ?? {} };
}

/** Change some of them. */
export const keepWire = (instrumentId, change) => keepSetting(`wire:${instrumentId}`, { ...wireOf(instrumentId), ...change });

/** The query for a quantity: {text, unit}; unit "" where the answer says it. */
export function queryOf(instrumentId, quantity) {
  return wireOf(instrumentId).queries[quantity] ?? { text: QUERIES[0], unit: "" };
}

export function keepQuery(instrumentId, quantity, change) {
  const queries = { ...wireOf(instrumentId).queries, [quantity]: { ...queryOf(instrumentId, quantity), ...change } };
  return keepWire(instrumentId, { queries });
}

/** The quantities that an instrument is used for: [{name, units}], the units those of its cards. */
export function quantitiesOf(store, instrument) {
  const found = new Map();
  for (const name of instrument.procedures) {
    const units = store.doc.procedures[name]?.units ?? [];
    if (!units.length) continue;
    const quantity = quantityOf(units[0]);
    found.set(quantity, [...new Set([...(found.get(quantity) ?? []), ...units])]);
  }
  return [...found].map(([name, units]) => ({ name, units: withBase(name, units) }));
}

/** An instrument of SCPI answers in the base unit, where it says none. */
function withBase(quantity, units) {
  const base = { resistance: "Ohm", time: "s", pressure: "Pa" }[quantity];
  return [...new Set([base, ...units].filter(Boolean))];
}

// A value as it is shown: the same words as webapp/drawing/figures.py gives paper.

import { amount } from "/offline/reader.js";

const FINE_PRESSURE = 0.1; // Pa: below it a pressure is said as a power of ten ...
const FINE_DIGITS = 2; // ... with as many digits as a magnetron's current gives
const SUPERSCRIPTS = { "-": "⁻", 0: "⁰", 1: "¹", 2: "²", 3: "³", 4: "⁴", 5: "⁵", 6: "⁶", 7: "⁷", 8: "⁸", 9: "⁹" };

/** Return a value with its unit: 4.200 GΩ; the pressure of a vacuum 6.0 × 10⁻⁴ Pa. */
export function shownAmount(value, unit) {
  const size = Math.abs(Number(value));
  if (unit !== "Pa" || size === 0 || size >= FINE_PRESSURE) return amount(value, unit);
  const [mantissa, exponent] = Number(value).toExponential(FINE_DIGITS - 1).split("e");
  const raised = [...String(Number(exponent))].map((sign) => SUPERSCRIPTS[sign]).join("");
  return `${mantissa} × 10${raised} Pa`;
}

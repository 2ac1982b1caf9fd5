/**
 * The expanded uncertainty that follows from an instrument's accuracy.
 */

import { convert } from "./quantities.js";

const COVERAGE = 2; // k

/**
 * U (k = 2) of a value in `unit`, in that unit; accuracy is {pct, fixed, unit}.
 *
 * The stated limits are taken as a rectangular distribution: standard uncertainty =
 * half-width / sqrt(3). Source: JCGM 100:2008 (GUM) 4.3.7; expanded with k = 2, 6.2.
 */
export function expandedUncertainty(accuracy, value, unit) {
  let { fixed } = accuracy;
  if (accuracy.unit && accuracy.unit !== unit) {
    fixed = convert(fixed, accuracy.unit, unit);
  }
  const halfWidth = (accuracy.pct / 100) * Math.abs(value) + fixed;
  return (COVERAGE * halfWidth) / Math.sqrt(3);
}

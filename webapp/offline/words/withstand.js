/**
 * How a withstand was judged, in words.
 */

import { plain } from "./numbers.js";

/** Whether the field level was reached, and not exceeded by much. */
export function levelWords({ reading }, { verdict, part }) {
  const wanted = `the field level ${plain(part.level_kv)} kV`;
  const testKv = reading.conditions.test_kv ?? null;
  if (testKv === null) return `The voltage reached is not known (${wanted}).`;
  const reached = `${plain(testKv)} kV`;
  if (verdict === "unjudged") return `${reached} does not reach ${wanted}.`;
  if (verdict === "within") return `Held at ${reached}; ${wanted}.`;
  const over = `${plain(part.over_pct)} % above ${wanted}`;
  return `${reached} is more than ${over}: the gear was stressed beyond it.`;
}

/** Whether the voltage was held for long enough. */
export function durationWords({ reading }, { verdict, part }) {
  const durationS = reading.conditions.duration_s ?? null;
  if (durationS === null) return "It is not known how long the voltage was held.";
  const held = `Held for ${plain(durationS)} s`;
  const wanted = `${plain(part.hold_s)} s`;
  return verdict === "within" ? `${held} of ${wanted} wanted.` : `${held}; ${wanted} are wanted.`;
}

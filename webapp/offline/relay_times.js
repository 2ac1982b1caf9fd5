/**
 * Between which times a relay may operate, by the options of its bound.
 */

import { atLeast } from "./judge.js";

/** Of a voltage or of a current: the setting at which it operates, and what was applied. */
export const settingOf = (bound) => ("pickup_v" in bound ? "pickup_v" : "pickup_a");
export const appliedTo = (bound) => ("pickup_v" in bound ? "applied_v" : "applied_a");

/** How far beyond 1: an undervoltage element operates below its setting. */
export const reach = ({ curve }, multiple) => (curve.falls ? 2 - multiple : multiple);

/** An operating-time bound as it is once the pickup has been measured. */
export const unwidened = (bound) => ({ ...bound, pickup_error_pct: 0, current_error_pct: 0 });

/**
 * Between which times a relay may operate at a multiple; null where no band holds it.
 *
 * Worst case of pickup, current and time together: latest t(least) and its tolerance
 * more, earliest t(most) and its tolerance less. At a border of bands the first holds,
 * the wider one.
 */
export function timesAt(bound, multiple) {
  const band = (bound.bands ?? [{ from: 0, times: 1 }]).find(
    ({ from, to = Infinity }) => atLeast(multiple, from) && atLeast(to, multiple),
  );
  if (!band) return null;
  const pct = bound.tolerance_pct * band.times;
  const [least, most] = seenMultiples(bound, multiple);
  const [slow, fast, expected] = [least, most, multiple].map((seen) => expectedTime(bound, seen));
  const margin = (time) => Math.max((pct / 100) * time, bound.tolerance_s);
  const low = Math.max(0, fast - margin(fast));
  return { band: bound.bands ? band : null, pct, least, most, slow, fast, expected, low, high: slow + margin(slow) };
}

/** The least and the greatest multiple that the relay may see, by the declared errors. */
export function seenMultiples({ pickup_error_pct: pickupPct, current_error_pct: currentPct }, multiple) {
  const pickup = (pickupPct ?? 0) / 100;
  const current = (currentPct ?? 0) / 100;
  return [(multiple * (1 - current)) / (1 + pickup), (multiple * (1 + current)) / (1 - pickup)];
}

/** The time of the curve as set: flat above a ceiling, never below a minimum. */
function expectedTime({ curve, time_dial: dial, ceiling_multiple: ceiling, ...bound }, multiple) {
  const seconds = operatingTime(curve, dial, Math.min(multiple, ceiling ?? Infinity));
  return Math.max(seconds, bound.minimum_time_s ?? 0);
}

/**
 * The time in seconds at a multiple of pickup; infinite at or below 1.
 *
 * Inverse: t = dial (A / (M^p - 1) + B). With B = 0 this is the IEC form, where A is
 * k and p is alpha. Sources: IEEE C37.112 (trip equation), IEC 60255-151
 * (inverse-time characteristic). Definite: t = dial. Voltage, of 27 and 59:
 * t = dial A / (B dU/U - C)^E + D with dU/U = multiple - 1.
 */
export function operatingTime({ form, a, b, p, c, d, e }, timeDial, multiple) {
  if (multiple <= 1) return Infinity;
  if (form === "definite") return timeDial;
  if (form === "voltage") return (timeDial * a) / Math.max(0, b * (multiple - 1) - c) ** e + d;
  return timeDial * (a / (multiple ** p - 1) + b);
}

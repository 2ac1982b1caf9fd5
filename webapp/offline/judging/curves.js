/**
 * Operating times of inverse-time curves.
 */

import { plain } from "./wording.js";

/**
 * The time in seconds at a multiple of pickup; infinite at or below 1.
 *
 * Inverse: t = dial (A / (M^p - 1) + B). With B = 0 this is the IEC form, where A is
 * k and p is alpha. Sources: IEEE C37.112 (trip equation), IEC 60255-151
 * (inverse-time characteristic). Definite: t = dial.
 */
export function operatingTime({ form, a, b, p }, timeDial, multiple) {
  if (multiple <= 1) return Infinity;
  if (form === "definite") return timeDial;
  return timeDial * (a / (multiple ** p - 1) + b);
}

/** The equation with its numbers, as printed in a working. */
export function equation({ form, a, b, p }, timeDial, multiple) {
  const dial = plain(timeDial);
  if (form === "definite") return dial;
  const inverse = `${plain(a)} / (${multiple}^${plain(p)} − 1)`;
  return b === 0 ? `${dial} × ${inverse}` : `${dial} × (${inverse} + ${plain(b)})`;
}

/**
 * A relay's settings: which of them no relay can have.
 */

import { LARGEST } from "./values.js";

export const LARGEST_MULTIPLE = 1e6; // of pickup; nothing that is injected comes near it

/** Why a value is no pickup and no time dial; null where it may be one. */
export function settingFault(what, value) {
  if (value === null || value === undefined) return `${what} is not known.`;
  if (!(value > 0)) return `${what} is not above zero.`;
  if (!(value < LARGEST)) return `${what} is out of all proportion.`;
  return null;
}

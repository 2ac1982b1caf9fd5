/**
 * Accuracies of an instrument's ranges, as models/judging/accuracy.py has them.
 */

import { atLeast } from "./judge.js";
import { convert, inFirstUnit } from "./units.js";

/** What is stated at a value, {pct, fixed, unit, low, high}; undefined beyond all ranges. */
export function ofRange(ranges, value, unit) {
  const found = [...ranges].sort(byUpperEnd).find((range) => holds(range, value, unit));
  return found && flat(found);
}

const byUpperEnd = (one, other) => upperEnd(one) - upperEnd(other);

const upperEnd = ({ high, unit }) => (unit ? inFirstUnit(high, unit) : high);

function holds({ low, high, unit: own }, value, unit) {
  const here = own ? convert(value, unit, own) : value;
  const size = low < 0 ? here : Math.abs(here);
  return atLeast(size, low) && atLeast(high, size);
}

/** Percent of reading, and all that is the same in the whole range. */
function flat({ low, high, unit, ...parts }) {
  const { pct = 0, pct_range: share = 0, digits = 0, resolution = 0, fixed = 0 } = parts;
  return { pct, fixed: fixed + (share / 100) * high + digits * resolution, unit, low, high };
}

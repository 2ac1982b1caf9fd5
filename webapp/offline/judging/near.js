/**
 * When two numbers are the same: 5.00 GOhm is 5000 MOhm.
 */

const RELATIVE = 1e-9;

/** Whether a and b are equal within 1e-9 relative; infinity is near itself only. */
function near(a, b) {
  if (a === b) return true;
  if (!Number.isFinite(a) || !Number.isFinite(b)) return false;
  return Math.abs(a - b) <= RELATIVE * Math.max(Math.abs(a), Math.abs(b));
}

/** Whether a is at or above b; exactly at it counts. */
export function atLeast(a, b) {
  return a > b || near(a, b);
}

// The ends of a scale, such that a place can be worked out for every number.

// Beyond these a sum or a ratio of what is drawn may be no number any more.
const LARGEST = 1e150;
const SMALLEST = 1e-150;
const LEAST_SPAN = 1e-9; // against the larger of the ends

/** Return {low, high}, pulled in or apart; what then lies beyond is drawn at the end. */
export function ends(low, high, logarithmic) {
  const least = logarithmic ? SMALLEST : -LARGEST;
  const first = Math.min(Math.max(low, least), LARGEST);
  const last = Math.min(Math.max(high, least), LARGEST);
  const span = Math.max(LEAST_SPAN * Math.max(Math.abs(first), Math.abs(last)), SMALLEST);
  return { low: first, high: Math.max(last, first + span) };
}

// The first of those that come foremost by several marks, the weightiest mark first.

/** *marksOf(one)*: numbers or booleans; null where there is none. */
export function foremost(all, marksOf) {
  let best = null;
  let bestMarks = null;
  for (const one of all) {
    const marks = marksOf(one).map(Number);
    if (bestMarks !== null && !isMore(marks, bestMarks)) continue;
    best = one;
    bestMarks = marks;
  }
  return best;
}

function isMore(marks, others) {
  const index = marks.findIndex((mark, at) => mark !== others[at]);
  return index !== -1 && marks[index] > others[index];
}

/**
 * Angles in degrees: the shorter way between two, and two quantities as a pointer. The same as angles.py of models/judging.
 */

const DEGREES = 180 / Math.PI;

/** A difference the shorter way round: from minus half a turn to less than half. */
export function wrapped(difference, turn = 360) {
  const rest = (difference + turn / 2) % turn;
  return (rest < 0 ? rest + turn : rest) - turn / 2;
}

/** The angle of a pointer from the direction of its level part. */
export function angleOf(part, y, tools) {
  return pointer(part, y, tools, (x, length) => ({
    shown: Math.atan2(y.corrected, x.corrected) * DEGREES,
    byX: y.corrected / length,
    byY: x.corrected / length,
    scale: DEGREES / length,
    base: "deg",
  }));
}

/** The length of a pointer. */
export function magnitudeOf(part, y, tools) {
  return pointer(part, y, tools, (x, length) => ({
    shown: length,
    byX: x.corrected / length,
    byY: y.corrected / length,
    scale: 1,
    base: y.base,
  }));
}

function pointer({ by, unit }, y, { values, make }, work) {
  const x = typeof by === "number" ? make(by, by, by, {}) : values[by.on];
  const length = x ? Math.hypot(x.corrected, y.corrected) : 0;
  if (!(length > 0) || !x.exact || !y.exact) return undefined;
  const { shown, byX, byY, scale, base } = work(x, length);
  const stated = x.expanded !== null || y.expanded !== null;
  const expanded = stated ? scale * Math.hypot(byX * x.expanded, byY * y.expanded) : null;
  return make(shown, shown, shown, { expanded, base: unit ?? base, signed: true });
}

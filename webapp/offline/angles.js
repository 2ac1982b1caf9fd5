/**
 * Angles in degrees: two quantities as a pointer. The same as angles.py of models/judging.
 */

const DEGREES = 180 / Math.PI;

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

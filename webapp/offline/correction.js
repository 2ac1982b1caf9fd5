/**
 * The factor that brings a reading to the reference temperature.
 */

// A gas pressure is no multiple of what was read: `carried` of gas.js has it.
const BY = { none: () => 1, factor: ofTable, metal: ofMetal, isochor: () => 1 };

/** The ways of correcting that a rule may name. */
export const CORRECTIONS = Object.keys(BY);

/** The factor to the reference temperature; null beyond what the table knows. */
export function correctionFactor(correction, celsius) {
  return BY[correction.by](correction, celsius);
}

/** The resistance of a metal is linear, and nothing at -k: IEC 60028, 234.5 for copper. */
function ofMetal(metal, celsius) {
  const above = metal.k + celsius;
  return above > 0 ? (metal.k + metal.reference_c) / above : null;
}

/** Join the table's points log-linearly, or straight; never beyond its ends. */
function ofTable({ points, join }, celsius) {
  const next = points.findIndex(([at]) => at >= celsius);
  const [highC, high] = points[next] ?? [];
  if (highC === celsius) return high;
  if (next < 1) return null;
  const [lowC, low] = points[next - 1];
  const share = (celsius - lowC) / (highC - lowC);
  return join === "linear" ? low + share * (high - low) : low * (high / low) ** share;
}


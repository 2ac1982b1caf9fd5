/**
 * The knee by the definition that does not decide: the two give different volts.
 */

import { kneeOf, logCurve } from "../knee.js";
import { pointsOf, rowOf } from "../rows.js";
import { SERIES } from "../tables.js";
import { say } from "../words/catalogue.js";
import { figure, saidUnit } from "../words/numbers.js";
import { definitionOf } from "../words/rows.js";

export function otherKneeWords(state, note) {
  const { step_unit: stepUnit, unit } = SERIES[note.series];
  const points = pointsOf(note.series, rowOf(state, note.series) ?? []);
  const curve = logCurve(points);
  if (!curve) return [];
  const volts = kneeOf(note, points);
  const definition = definitionOf(note);
  if (typeof volts === "string") return [say("other_knee.none", { definition })];
  return [
    say("other_knee", {
      definition,
      volts: `${figure(volts)} ${stepUnit}`,
      amperes: `${figure(Math.exp(curve.value(Math.log(volts))))} ${saidUnit(unit)}`,
    }),
  ];
}

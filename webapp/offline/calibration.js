/**
 * The gate of a recorded reading: its instrument must be in calibration on the day.
 *
 * models/judging/gates.py adds the same one on the server, and says why it is the last.
 */

import { say } from "./words/catalogue.js";

const gated = new WeakMap(); // rule -> the rule with the gate: it judges many readings

/** The rule with the gate, which reads the condition `calibration`. */
export function withCalibrationGate(rule) {
  if (rule.gates.some(({ on }) => on === "calibration")) return rule;
  if (!gated.has(rule)) gated.set(rule, { ...rule, gates: [...rule.gates, calibrationGate()] });
  return gated.get(rule);
}

function calibrationGate() {
  const reason = say("calibration.out");
  const reasons = { lapsed: reason, none: reason };
  return { on: "calibration", one_of: ["in_date"], reasons, last: true };
}

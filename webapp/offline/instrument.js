/**
 * The gates of a recorded reading: its instrument can have shown it, and was in
 * calibration on the day.
 *
 * models/judging/gates.py adds the same two on the server, and says why they are the last.
 */

import { say } from "./words/catalogue.js";

const BEYOND = ["supply", "level", "reading"];
const gated = new WeakMap(); // rule -> the rule with both gates: it judges many readings

/** The rule with both gates: they read the conditions `instrument_limit`, `calibration`. */
export function withInstrumentGates(rule) {
  if (!gated.has(rule)) {
    const has = ({ on }) => rule.gates.some((gate) => gate.on === on);
    const added = [limitGate(), calibrationGate()].filter((gate) => !has(gate));
    gated.set(rule, { ...rule, gates: [...rule.gates, ...added] });
  }
  return gated.get(rule);
}

function limitGate() {
  const reasons = Object.fromEntries(BEYOND.map((what) => [what, say(`instrument.${what}`)]));
  return { on: "instrument_limit", one_of: ["none"], reasons, last: true };
}

function calibrationGate() {
  const reason = say("calibration.out");
  const reasons = { lapsed: reason, none: reason };
  return { on: "calibration", one_of: ["in_date"], reasons, last: true };
}

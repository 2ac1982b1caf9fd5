// What is wrong with an act: a field, a code of the catalogue, what the words name.

import { momentText } from "./times.js";

export const fault = (field, code, facts = {}) => ({ field, code, facts });

/** Reasons why a scope does not stand, as faults of the act. */
export const scopeFaults = (reasons) => reasons.map(({ code, facts }) => fault("scope", code, facts));

/** That a crew is not there or has ended, where it is so. */
export function crewFaults(crew) {
  if (!crew) return [fault("crew", "crew_unknown")];
  return crew.ended === null ? [] : [fault("crew", "crew_ended", { at: momentText(crew.ended) })];
}

/** That a clearance is not there or was handed back, where it is so. */
export function isolationFaults(isolation) {
  if (!isolation) return [fault("isolation", "isolation_unknown")];
  return isolation.ended === null ? [] : [fault("isolation", "isolation_ended", { at: momentText(isolation.ended) })];
}

/** Whether nothing is said: no text, or blanks. */
export const isBlank = (text) => !(text ?? "").trim();

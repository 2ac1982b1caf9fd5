// Whether a stop may be released: by whom, with which words.

import { fault, isBlank } from "./fault.js";
import { personKey, speakerKey } from "./people.js";
import { releasers } from "./scope_standing.js";

/** What is missing; *lead*: the one who releases has the role lead. */
export function checkRelease(state, act, lead) {
  if (!state.stops.has(act.stop)) return [fault("stop", "stop_unknown")];
  const found = [];
  if (isBlank(act.reason)) found.push(fault("reason", "reason_missing"));
  if (isBlank(act.put_right)) found.push(fault("put_right", "put_right_missing"));
  return [...found, ...checkWho(state, act, lead)];
}

function checkWho(state, act, lead) {
  const wanted = lead ? [] : [fault("scope", "lead_wanted")];
  if (!act.agrees) return wanted;
  const crews = [...state.crews.values()].filter(({ ended }) => ended === null);
  const named = crews.flatMap((crew) => releasers(state, crew));
  if (named.some((one) => personKey(one) === speakerKey(act))) return [];
  if (!named.length) return wanted;
  return [fault("scope", "not_releaser", { names: named.map(({ name }) => name) })];
}

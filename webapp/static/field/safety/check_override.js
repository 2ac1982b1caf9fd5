// Whether a line, or a condition of the program, may be set aside.

import { fault, isBlank } from "./fault.js";
import { speaker } from "./people.js";

const NAMES_WANTED = 2;
const CONDITIONS = ["HV4", "HV6"]; // of the program: what a card waits for
const REASON_ALONE = ["HV4"]; // the order of the programme: no second and third name

/** What is wrong with an override: its line, its reason, its names. */
export function checkOverride(state, act) {
  const found = checkWhat(state, act);
  if (isBlank(act.reason)) found.push(fault("reason", "reason_missing"));
  if (!REASON_ALONE.includes(act.code) && othersNamed(act).size < NAMES_WANTED) {
    found.push(fault("names", "two_names"));
  }
  return found;
}

function checkWhat(state, { scope, code }) {
  if (scope === "test" && CONDITIONS.includes(code)) return [];
  const line = state.book.lines[code];
  if (line?.scope !== scope) return [fault("code", "line_unknown", { line: code })];
  return line.never_waived ? [fault("code", "never_waived")] : [];
}

/** The names that stand under it besides who tests. */
function othersNamed(act) {
  const names = new Set(act.names.map(plain));
  names.delete("");
  names.delete(plain(speaker(act).name));
  return names;
}

const plain = (name) => String(name).trim().split(/\s+/).join(" ").toLowerCase();

// What stands of each line that is asked for, as JSON.

import { momentOrNull, momentText } from "./times.js";

/** A line as it stands; *lapse* {why, at} where it lapsed. */
export function lineJson({ code, item = null, person = null }, given, lapse = null) {
  const fell = given !== null && given.lapsedAt !== null ? { why: given.lapsedBy ?? "", at: given.lapsedAt } : lapse;
  return {
    code,
    item: item || person,
    state: stateOf(given, fell),
    by: given?.by ?? null,
    at: given ? momentText(given.at) : null,
    noted: given?.noted ?? {},
    reason: given?.reason ?? null,
    lapsed_by: fell?.why ?? null,
    lapsed_at: fell ? momentText(fell.at) : null,
  };
}

function stateOf(given, fell) {
  if (given === null) return "open";
  return fell ? "lapsed" : given.state;
}

/** The line of a place as it stands. */
export function lineOf(state, scope, of, one) {
  return lineJson(one, state.lines.find(scope, of, one.code, one.item, one.person));
}

/** A scope as it stands: crew, isolation or point; *held* null: nobody opened it. */
export function scopeJson(scope, of, held, lines) {
  return {
    scope,
    of,
    state: of === null ? "none" : stateWord(held),
    since: held?.stands ? momentOrNull(held.since) : null,
    by: held?.stands ? held.by : null,
    cause: held?.cause ?? null,
    at: momentOrNull(held?.causeAt ?? null),
    lines,
  };
}

function stateWord(held) {
  if (held === null) return "filling";
  if (held.ended !== null) return "ended";
  if (held.stands) return "stands";
  return held.cause === null ? "filling" : "lapsed";
}

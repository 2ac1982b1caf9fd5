// What stands of the return of a clearance or of a part of it.

import { cellsToReturn, ofReturn } from "./asked.js";
import { foremost } from "./foremost.js";
import { lineJson, scopeJson } from "./line_standing.js";
import { milliseconds } from "./times.js";

/** The return as a scope: none until it is opened. */
export function returnJson(state, isolation) {
  const found = scopeJson("return", isolation.id, null, []);
  if (isolation.returningSince === null) return { ...found, state: isolation.ended === null ? "none" : "ended" };
  const lines = returnLines(state, isolation);
  if (lines.some((line) => ["open", "lapsed"].includes(line.state))) return { ...found, state: "filling", lines };
  const last = foremost(lines, ({ at }) => [milliseconds(at)]) ?? { at: null, by: null };
  return { ...found, since: last.at, by: last.by, state: "stands", lines };
}

/** The lines of the return; work in the part after a line re-opens it. */
export function returnLines(state, isolation) {
  const begun = isolation.returningSince ?? 0;
  const cells = cellsToReturn(state, isolation);
  const worked = Math.max(0, ...cells.map((cell) => state.worked.get(cell) ?? 0));
  return ofReturn(state, isolation).map((one) => {
    const given = state.lines.find("return", isolation.id, one.code, one.item, one.person);
    if (given === null || given.at < begun) return lineJson(one, null);
    return lineJson(one, given, given.at <= worked ? { why: "worked", at: worked } : null);
  });
}

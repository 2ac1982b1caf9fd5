// What stands for one card, as JSON.

import { afterLines, discharge } from "./after_lines.js";
import { ofCard } from "./asked.js";
import { foremost } from "./foremost.js";
import { lineJson } from "./line_standing.js";
import { crewOf, isolationOf, lapseOf, reasons } from "./reasons.js";
import { crewScope, isolationScope, pointScope } from "./scope_standing.js";
import { milliseconds, momentText } from "./times.js";

/** Whether a card is open for a person, why not, and its scopes. *ask*: {card, person, at, choice}. */
export function cardJson(state, ask) {
  const closedBy = reasons(state, ask);
  const { card, person, choice } = ask;
  const cell = state.places.cell(card);
  const lineup = state.places.lineup(cell);
  return {
    open: !closedBy.length,
    reasons: closedBy,
    crew: crewScope(state, crewOf(state, lineup, person)),
    isolation: isolationScope(state, isolationOf(state, cell, person)),
    point: pointScope(state, cell),
    test: listJson("test", card, testLines(state, ask)),
    after: listJson("after", card, afterLines(state, card, choice)),
    discharge: dischargeJson(state, card),
  };
}

function testLines(state, { card, choice, at }) {
  return ofCard(state, card, choice, "before").map((code) => {
    const given = state.lines.find("test", card, code);
    return lineJson({ code }, given, given && lapseOf(state, card, given, at));
  });
}

/** The lines of a card as a scope: none, filling, stands or lapsed. */
function listJson(scope, of, lines) {
  const left = lines.filter(({ state }) => ["open", "lapsed"].includes(state));
  const lapsed = left.filter(({ state }) => state === "lapsed");
  const given = lines.filter((line) => !left.includes(line));
  const stands = left.length ? null : foremost(given, ({ at }) => [milliseconds(at)]);
  const cause = foremost(lapsed, (line) => [milliseconds(line.lapsed_at)]);
  const word = cause ? "lapsed" : "filling";
  return {
    scope,
    of,
    state: stands ? "stands" : lines.length ? word : "none",
    since: stands?.at ?? null,
    by: stands?.by ?? null,
    cause: cause?.lapsed_by ?? null,
    at: cause?.lapsed_at ?? null,
    lines,
  };
}

function dischargeJson(state, card) {
  const timer = discharge(state, card);
  if (timer === null) return null;
  return { off_at: momentText(timer.off), dc_s: state.card(card).dcS, over_at: momentText(timer.over) };
}

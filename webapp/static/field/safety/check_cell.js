// Whether a cell may be entered.

import { crewFaults, fault, scopeFaults } from "./fault.js";
import { speakerKey } from "./people.js";
import { groundsOf } from "./point_acts.js";
import { crewReasons, isolationReasons, reason, stopped } from "./reasons.js";
import { momentText } from "./times.js";

/** What forbids to enter a cell: a wider scope, a holder, a ground off. */
export function checkEnter(state, act) {
  const { cell } = act;
  const person = speakerKey(act);
  const lineup = state.places.lineup(cell);
  if (lineup === null) return [fault("cell", "cell_unknown")];
  const wrong = crewFaults(state.crews.get(act.crew));
  if (wrong.length) return wrong;
  return scopeFaults([
    ...stopped(state),
    ...crewReasons(state, lineup, person),
    ...isolationReasons(state, cell, person),
    ...held(state, cell, person),
    ...groundsOff(state, act),
  ]);
}

function held(state, cell, person) {
  const point = state.points.get(cell);
  if (!point?.inside || point.holderKey === person) return [];
  // One of the same crew takes the cell over.
  if (state.crews.get(point.crew)?.people.has(person)) return [];
  return [reason("point_held", { by: point.holder })];
}

/**
 * The grounds of this clearance that are off for a card of another cell.
 *
 * A cell that was never entered may rest on any of them.
 */
function groundsOff(state, { cell, isolation }) {
  const holds = groundsOf(state, cell);
  const register = state.items("ground", isolation ?? "");
  const isHere = (ground) => holds.includes(ground) || (!holds.length && register.has(ground));
  return state.suspensions
    .filter((one) => one.cell !== cell)
    .flatMap((one) =>
      (one.grounds ?? [])
        .filter(isHere)
        .map((ground) => reason("ground_off", { card: one.card, ground, since: momentText(one.since) })),
    );
}

/**
 * Whether an act may be taken as things stand: what is wrong with it, if anything.
 *
 * Making safe is always taken: lines of *after* and of a return, leaving, ending, put-back
 * entries, stops. What names a thing that is not there is refused all the same.
 */

import { checkEnter } from "./check_cell.js";
import { checkLine } from "./check_line.js";
import { checkOverride } from "./check_override.js";
import { checkRelease } from "./check_release.js";
import { checkHandBack } from "./check_return.js";
import { crewFaults, fault, isBlank, isolationFaults, scopeFaults } from "./fault.js";
import { speakerKey } from "./people.js";
import { crewReasons } from "./reasons.js";

/** The faults of an act; *lead*: who says it has the role lead. */
export const check = (state, act, at, lead) => CHECKS[act.act](state, act, at, lead);

function openCrew(state, act) {
  if (!act.lineups.length) return [fault("lineups", "lineup_missing")];
  const unknown = act.lineups.some((one) => !(one in state.book.lineups));
  return unknown ? [fault("lineups", "lineup_unknown")] : [];
}

function extendCrew(state, act) {
  const wrong = crewFaults(state.crews.get(act.crew));
  return wrong.length ? wrong : openCrew(state, act);
}

const crewKnown = (state, act) => (state.crews.has(act.crew) ? [] : [fault("crew", "crew_unknown")]);

function openIsolation(state, act) {
  if (isBlank(act.clearance)) return [fault("clearance", "clearance_missing")];
  if (!(act.lineup in state.book.lineups)) return [fault("lineup", "lineup_unknown")];
  return scopeFaults(crewReasons(state, act.lineup, speakerKey(act)));
}

const isolationKnown = (state, act) =>
  state.isolations.has(act.isolation) ? [] : [fault("isolation", "isolation_unknown")];

function listItem(state, act) {
  const ofCrew = ["set", "place"].includes(act.register);
  return ofCrew ? crewFaults(state.crews.get(act.of)) : isolationFaults(state.isolations.get(act.of));
}

function putBack(state, act) {
  const wrong = isolationKnown(state, act);
  if (wrong.length || state.items("put_back", act.isolation).has(act.item)) return wrong;
  return [fault("item", "item_unknown")];
}

function dcOff(state, act) {
  if (!(act.card in state.book.cards)) return [fault("card", "card_unknown")];
  return act.dc_s >= 0 ? [] : [fault("dc_s", "dc_time")];
}

const leave = (state, act) => (state.points.has(act.cell) ? [] : [fault("cell", "point_not_entered")]);

function change(state, { of }) {
  const held = [state.crews, state.isolations, state.points].some((places) => places.has(of));
  return held || of in state.book.point || of in state.book.cards ? [] : [fault("of", "place_unknown")];
}

const CHECKS = {
  open_crew: openCrew,
  extend_crew: extendCrew,
  end_crew: crewKnown,
  sign_off: crewKnown,
  open_isolation: openIsolation,
  list: listItem,
  put_back: putBack,
  open_return: isolationKnown,
  hand_back: checkHandBack,
  line: checkLine,
  override: checkOverride,
  enter: checkEnter,
  leave,
  change,
  stop: () => [],
  release: (state, act, _at, lead) => checkRelease(state, act, lead),
  dc_off: dcOff,
};

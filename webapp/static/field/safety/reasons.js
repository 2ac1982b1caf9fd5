// Why a card is closed for a person at a moment: the widest reason first.

import { ofCard, ofPoint, sharedOfCrew, sharedOfIsolation } from "./asked.js";
import { idleSince } from "./card_acts.js";
import { neededPeople, signedOnToCrew } from "./complete.js";
import { foremost } from "./foremost.js";
import { groundsOf } from "./point_acts.js";
import { momentOrNull, momentText } from "./times.js";
import { waiting } from "./waits.js";

export const reason = (code, facts = {}) => ({ code, facts });

/** Why the card is closed; empty: it is open for readings. *ask*: {card, person, at, choice}. */
export const reasons = (state, ask) => [...scopeReasons(state, ask), ...testReasons(state, ask)];

/** What closes the card but for the lines of its test. */
export function scopeReasons(state, { card, person }) {
  const { rests_on: restsOn } = state.lists(card);
  const cell = state.places.cell(card);
  return [
    ...stopped(state),
    ...(restsOn.includes("crew") ? crewReasons(state, state.places.lineup(cell), person) : []),
    ...(restsOn.includes("isolation") ? isolationReasons(state, cell, person) : []),
    ...(restsOn.includes("point") && cell !== null ? pointReasons(state, cell, person) : []),
    ...suspended(state, card, cell),
    ...waiting(state, card, person, cell),
  ];
}

/** The first stop that is in force. */
export function stopped(state) {
  const [stop] = state.stops.values();
  return stop ? [reason("stopped", { by: stop.by, at: momentText(stop.at) })] : [];
}

/** The crew of a person on a lineup: their own, then one that has not ended, then the latest. */
export function crewOf(state, lineup, person) {
  const found = [...state.crews.values()].filter(({ lineups }) => lineup === null || lineups.includes(lineup));
  return foremost(found, (crew) => [crew.ended === null, signedOnToCrew(state, crew, person), crew.opened]);
}

/** Why no crew of this person stands on the lineup. */
export function crewReasons(state, lineup, person) {
  const crew = crewOf(state, lineup, person);
  if (crew === null) return [reason("crew_none")];
  if (crew.ended !== null) return [reason("crew_ended", { at: momentText(crew.ended) })];
  if (!crew.stands && crew.cause !== null) {
    return [reason("crew_lapsed", { why: crew.cause, at: momentOrNull(crew.causeAt) })];
  }
  if (!crew.stands) return [reason("crew_open", { open: crewOpenLines(state, crew) })];
  return signedOnToCrew(state, crew, person) ? [] : [reason("crew_not_signed_on")];
}

/** How many lines a crew still needs. */
export function crewOpenLines(state, crew) {
  const shared = sharedOfCrew(state, crew).filter(({ code, item }) => !state.lines.counts("crew", crew.id, code, item));
  const own = neededPeople(state, crew).flatMap((key) =>
    state.ownOfCrew.filter((code) => !state.lines.counts("crew", crew.id, code, null, key)),
  );
  return shared.length + own.length;
}

/** The clearance over a cell: the one this person signed on to first. */
export function isolationOf(state, cell, person) {
  const found = [...state.isolations.values()].filter(({ lineup, section }) =>
    state.places.section(lineup, section).includes(cell),
  );
  return foremost(found, (one) => [
    one.ended === null && !one.returned.includes(cell),
    signedOnToIsolation(state, one, person),
    one.opened,
  ]);
}

/** Whether a person signed on to a clearance. */
export function signedOnToIsolation(state, isolation, person) {
  return state.ownOfIsolation.every((code) => state.lines.counts("isolation", isolation.id, code, null, person));
}

/** Why no clearance stands over the cell for this person. */
export function isolationReasons(state, cell, person) {
  const isolation = isolationOf(state, cell, person);
  if (isolation === null) return [reason("isolation_none")];
  if (isolation.ended !== null) return [reason("isolation_ended", { at: momentText(isolation.ended) })];
  if (isolation.returned.includes(cell)) return [reason("isolation_none")];
  const found = [];
  if (!isolation.stands && isolation.cause !== null) {
    found.push(reason("isolation_lapsed", { why: isolation.cause, at: momentOrNull(isolation.causeAt) }));
  } else if (!isolation.stands) {
    found.push(reason("isolation_open", { open: isolationOpenLines(state, isolation) }));
  }
  if (!signedOnToIsolation(state, isolation, person)) found.push(reason("isolation_not_signed_on"));
  return found;
}

function isolationOpenLines(state, isolation) {
  const shared = sharedOfIsolation(state, isolation);
  return shared.filter(({ code, item }) => !state.lines.counts("isolation", isolation.id, code, item)).length;
}

/** Why a line of a cell may not be given: it is not open for this person. */
export function cellReasons(state, cell, person) {
  const found = [
    ...stopped(state),
    ...crewReasons(state, state.places.lineup(cell), person),
    ...isolationReasons(state, cell, person),
    ...pointReasons(state, cell, person),
  ];
  return found.filter(({ code }) => code !== "point_open");
}

function pointReasons(state, cell, person) {
  const point = state.points.get(cell);
  if (!point) return [reason("point_not_entered")];
  const found = [];
  if (!ofHoldersCrew(state, point, person)) found.push(reason("point_held", { by: point.holder }));
  if (!point.inside) {
    found.push(reason("point_left", { at: momentOrNull(point.causeAt), why: point.cause }));
  } else if (!point.stands) {
    const open = ofPoint(state, cell).filter((code) => !state.lines.counts("point", cell, code)).length;
    found.push(reason("point_open", { open }));
  }
  return found;
}

/** Whether the person works with the holder; nobody holds a cell that is left. */
function ofHoldersCrew(state, point, person) {
  return !point.inside || (state.crews.get(point.crew)?.people.has(person) ?? false);
}

function suspended(state, card, cell) {
  if (cell === null) return [];
  const others = state.suspensions.filter((one) => one.card !== card && ofPoint(state, cell).includes(one.code));
  return others.flatMap((one) => suspension(state, one, cell));
}

function suspension(state, one, cell) {
  const since = momentText(one.since);
  if (one.grounds === null) {
    return one.cell === cell ? [reason("springs_charged", { card: one.card, since })] : [];
  }
  const own = groundsOf(state, cell);
  const off = one.grounds.filter((ground) => own.includes(ground));
  return off.map((ground) => reason("ground_off", { card: one.card, ground, since }));
}

/** The lines of the card's test that are open, and those asked again. */
export function testReasons(state, { card, choice, at }) {
  const never = [];
  const again = [];
  for (const code of ofCard(state, card, choice, "before")) {
    const given = state.lines.find("test", card, code);
    const lapse = given && lapseOf(state, card, given, at);
    if (given === null) never.push(code);
    else if (lapse) again.push({ code, ...lapse });
  }
  const found = [];
  if (never.length) found.push(reason("test_open", { open: never.length, codes: never }));
  if (again.length) {
    const last = foremost(again, (one) => [one.at]);
    const codes = again.map(({ code }) => code);
    found.push(reason("asked_again", { codes, why: last.why, at: momentText(last.at) }));
  }
  return found;
}

/** By what and when a line of a test lapsed; null while it counts. */
export function lapseOf(state, card, given, at) {
  if (given.lapsedAt !== null) return { why: given.lapsedBy, at: given.lapsedAt };
  const idle = idleSince(state, card, at);
  if (idle !== null && idle > given.at && state.lines.restsOn(given.code, "idle")) return { why: "idle", at: idle };
  return null;
}

// What acts about a crew change.

import { inCharge } from "./asked.js";
import { signedOnToCrew } from "./complete.js";
import { cellIsLeft, crewEnds, crewLeaves, numberChanges, settleCrew, walkAgain } from "./lapses.js";
import { keysNamed, speaker, speakerKey } from "./people.js";
import { Crew } from "./state.js";
import { milliseconds } from "./times.js";

/** Begin a shift; on a clearance that stands each lock is walked to again. */
export function openCrew(state, act) {
  const at = milliseconds(act.at);
  const crew = new Crew(act.crew, [...act.lineups], act.planned_end, at);
  state.crews.set(crew.id, crew);
  newShift(state, crew.lineups, at);
}

/** Take further lineups into a shift. */
export function extendCrew(state, act) {
  const crew = state.crews.get(act.crew);
  if (!crew) return;
  const at = milliseconds(act.at);
  const added = act.lineups.filter((one) => !crew.lineups.includes(one));
  crew.lineups.push(...added);
  newShift(state, added, at);
  settleCrew(state, crew, at, speaker(act).name, "lineup", { quiet: true });
}

function newShift(state, lineups, at) {
  for (const isolation of state.isolations.values()) {
    if (!lineups.includes(isolation.lineup) || !isolation.stood || isolation.ended !== null) continue;
    isolation.walkDue = at;
    walkAgain(state, isolation, "new_shift", at);
    if (isolation.stands) isolation.fall("new_shift", at);
  }
}

/** End a shift. */
export function endCrew(state, act) {
  const crew = state.crews.get(act.crew);
  if (crew) crewEnds(state, crew, milliseconds(act.at), "shift");
}

/** Let a person leave a crew; without the one in charge it ends. */
export function signOff(state, act) {
  const crew = state.crews.get(act.crew);
  if (!crew || crew.ended !== null) return;
  const at = milliseconds(act.at);
  const key = speakerKey(act);
  if (key === inCharge(state, crew)) crewEnds(state, crew, at, "person");
  else if (crew.people.has(key)) memberLeaves(state, crew, key, at);
}

function memberLeaves(state, crew, key, at) {
  Object.assign(crew.people.get(key), { since: null, left: at });
  for (const given of state.lines.of("crew", crew.id)) {
    const named = state.lines.restsOn(given.code, "person") && keysNamed(given.noted).has(key);
    if (named || (given.byKey === key && state.ownOfCrew.includes(given.code))) given.lapse("person", at);
  }
  for (const point of [...state.points.values()]) {
    if (point.crew === crew.id && point.holderKey === key) cellIsLeft(state, point.cell, at, "person");
  }
  numberChanges(state, crew, at);
  const stood = crew.stands;
  settleCrew(state, crew, at, "", "person");
  if (stood && !crew.stands) crewLeaves(state, crew, at, "person");
}

/** Take a line of a crew; *before* is the one that it takes the place of. */
export function lineOfCrew(state, act, before) {
  const crew = state.crews.get(act.of);
  if (!crew) return;
  const at = milliseconds(act.at);
  let word = "person";
  if (act.code === "G01a" && before !== null && before.byKey !== speakerKey(act)) word = "charge";
  if (act.code === "G03a" && before !== null) word = "briefing";
  if (word !== "person") state.lines.lapse("crew", crew.id, word, at);
  if (state.ownOfCrew.includes(act.code)) signOn(state, crew, act, at);
  settleCrew(state, crew, at, speaker(act).name, word);
}

function signOn(state, crew, act, at) {
  const key = speakerKey(act);
  if (!crew.people.has(key)) crew.people.set(key, { key, name: speaker(act).name, since: null, left: null });
  const member = crew.people.get(key);
  if (member.since !== null || !signedOnToCrew(state, crew, key)) return;
  Object.assign(member, { since: at, left: null });
  if (crew.stood) numberChanges(state, crew, at);
}

/** Lapse the line of a permit at its end, unless another took its place. */
export function permitEnds(state, act, at) {
  const crew = state.crews.get(act.of);
  const given = state.lines.find("crew", act.of, act.code, act.item ?? null);
  if (!crew || given === null || !state.lines.restsOn(given.code, "permit")) return;
  if (given.noted.permit_end !== act.noted.permit_end) return;
  given.lapse("permit", at);
  settleCrew(state, crew, at, "", "permit");
}

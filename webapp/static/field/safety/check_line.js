// Whether a line may be given: it is asked here, it is so now, its notes are there.

import { discharge, mayBeGiven } from "./after_lines.js";
import { cellsToReturn, inCharge, ofPoint, sharedOfCrew, sharedOfIsolation } from "./asked.js";
import { checkNotes } from "./check_notes.js";
import { crewFaults, fault, isBlank, isolationFaults, scopeFaults } from "./fault.js";
import { personKey, speakerKey } from "./people.js";
import { groundsOf } from "./point_acts.js";
import { cellReasons, crewOf, crewReasons, isolationOf, scopeReasons } from "./reasons.js";
import { momentText } from "./times.js";

const NEEDS_TWO_NAMES = ["G13e"]; // waived by an override only

/** What is wrong with a line; its place first, then what it says. */
export function checkLine(state, act, at) {
  const line = state.book.lines[act.code];
  if (line?.scope !== act.scope) return [fault("code", "line_unknown", { line: act.code })];
  const wrong = PLACES[act.scope](state, act, at);
  return wrong.length ? wrong : checkStatement(state, act, line, at);
}

function checkStatement(state, act, line, at) {
  if (act.state === "confirmed") return checkNotes(state, act, line, at);
  if (line.never_waived) return [fault("state", "never_waived")];
  if (NEEDS_TWO_NAMES.includes(act.code)) return [fault("state", "two_names")];
  return isBlank(act.reason) ? [fault("reason", "reason_missing")] : [];
}

function ofCrew(state, act) {
  const crew = state.crews.get(act.of);
  const wrong = crewFaults(crew);
  if (wrong.length) return wrong;
  if (act.code === "G02a") {
    const second = personKey(act.noted?.person);
    if (second !== null && second === inCharge(state, crew)) return [fault("noted.person", "second_is_first")];
  }
  return checkItem(state, act, sharedOfCrew(state, crew), state.ownOfCrew);
}

function ofIsolation(state, act) {
  const isolation = state.isolations.get(act.of);
  const wrong = isolationFaults(isolation);
  if (wrong.length) return wrong;
  const closed = scopeFaults(crewReasons(state, isolation.lineup, speakerKey(act)));
  if (closed.length) return closed;
  return checkItem(state, act, sharedOfIsolation(state, isolation), [...state.ownOfIsolation, "G07b"]);
}

/** That a line is not asked, or not of this item. */
function checkItem(state, act, asked, once) {
  const item = act.item ?? null;
  if (once.includes(act.code) || asked.some((one) => one.code === act.code && one.item === item)) return [];
  const ofItems = state.book.lines[act.code].each.length || item !== null;
  return [ofItems ? fault("item", "item_unknown") : fault("code", "line_not_asked")];
}

function ofCell(state, act) {
  if (!ofPoint(state, act.of).includes(act.code)) return [fault("code", "line_not_asked")];
  return scopeFaults(cellReasons(state, act.of, speakerKey(act)));
}

function ofTest(state, act, at) {
  if (!codesOf(state, act, "before").includes(act.code)) return [fault("code", "line_not_asked")];
  const who = speakerKey(act);
  const found = scopeFaults(scopeReasons(state, { card: act.of, person: who, at, choice: null }));
  return found.length ? found : lastGround(state, act, who);
}

/** That primary injection takes off the last ground: its leader says so. */
function lastGround(state, act, who) {
  const injection = codesOf(state, act, "before").includes("PI2");
  if (act.code !== "T3" || act.state !== "confirmed" || !injection) return [];
  const cell = state.places.cell(act.of);
  const isolation = isolationOf(state, cell, who);
  const crew = crewOf(state, state.places.lineup(cell), who);
  if (isolation === null || crew === null || inCharge(state, crew) === who) return [];
  const named = act.noted?.grounds ?? [];
  const off = named.length ? named : groundsOf(state, cell);
  const on = state.register("ground", isolation.id).map(({ item }) => item);
  return on.some((ground) => !off.includes(ground)) ? [] : [fault("scope", "last_ground")];
}

function ofAfter(state, act, at) {
  const { of: card, code } = act;
  if (!codesOf(state, act, "after").includes(code)) return [fault("code", "line_not_asked")];
  if (!mayBeGiven(state, card, code)) return [fault("code", "no_reading")];
  return code === "P03a" ? discharged(state, card, at) : [];
}

function codesOf(state, { of }, part) {
  return Object.values(state.lists(of).lists).flatMap((list) => list[part]);
}

function discharged(state, card, at) {
  const timer = discharge(state, card);
  if (timer === null) return [fault("code", "dc_not_off")];
  const aside = state.lines.aside("after", card, "P03a");
  if (at >= timer.over || (aside !== null && aside.at >= timer.off)) return [];
  return [fault("code", "discharging", { at: momentText(timer.over) })];
}

function ofReturn(state, act) {
  const isolation = state.isolations.get(act.of);
  const wrong = isolationFaults(isolation);
  if (wrong.length) return wrong;
  if (isolation.returningSince === null) return [fault("scope", "return_none")];
  const ofCells = state.book.lines[act.code].each.includes("cell");
  if (ofCells && !cellsToReturn(state, isolation).includes(act.item ?? null)) return [fault("item", "item_unknown")];
  return [];
}

const PLACES = { crew: ofCrew, isolation: ofIsolation, point: ofCell, test: ofTest, after: ofAfter, return: ofReturn };

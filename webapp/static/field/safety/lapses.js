/**
 * What follows when a scope falls: each event reaches the scopes inside it.
 *
 * Crew, isolation, cell and card lie inside each other. Who falls takes down the narrower
 * ones: a cell is left, the lines of a card's test are asked again. The lines of *after*
 * are never touched.
 */

import { crewComplete, isolationComplete, pointComplete } from "./complete.js";

// Changes that leave nothing of a clearance as it was, whatever lines they touch.
const BOUNDARY_WORDS = ["lock", "point", "ground", "source", "boundary", "holder", "clearance", "stop"];

/** Ask all lines of a card's test again. */
export function cardLapses(state, card, word, at) {
  state.lines.lapseAll("test", card, word, at);
}

/** Leave a cell: it has to be entered again, its lines of presence given again. */
export function cellIsLeft(state, cell, at, why) {
  state.lines.lapse("point", cell, "left", at);
  for (const card of state.places.cards(cell)) cardLapses(state, card, "wider", at);
  const point = state.points.get(cell);
  if (!point?.inside) return;
  point.inside = false;
  point.fall(why, at);
}

/** Let a cell stand or fall after one of its lines was given or lapsed. */
export function settlePoint(state, point, at, by, word) {
  const complete = pointComplete(state, point);
  if (complete && !point.stands) point.stand(at, by);
  else if (!complete && point.stands) {
    point.fall(word, at);
    for (const card of state.places.cards(point.cell)) cardLapses(state, card, "wider", at);
  }
}

/** Let a clearance fall: every cell under it is left, its locks are walked to. */
export function isolationFalls(state, isolation, at, word, why = "wider") {
  isolation.fall(word, at);
  isolation.walkDue = at;
  walkAgain(state, isolation, word, at);
  for (const cell of state.covered(isolation)) cellFalls(state, cell, at, why);
}

/** Leave a cell because a wider scope fell. */
export function cellFalls(state, cell, at, why) {
  state.lines.lapse("point", cell, "wider", at);
  cellIsLeft(state, cell, at, why);
}

/** Ask again that each lock and ground was walked to. */
export function walkAgain(state, isolation, word, at) {
  state.lines.find("isolation", isolation.id, "G07b")?.lapse(word, at);
}

/** Let a clearance stand or fall after a line of it was given or lapsed. */
export function settleIsolation(state, isolation, at, by, word) {
  const complete = isolationComplete(state, isolation);
  if (complete && !isolation.stands) isolation.stand(at, by);
  else if (!complete && isolation.stands) isolationFalls(state, isolation, at, word);
}

/** Take a change of a clearance: it falls by a word of its boundary, or by a line. */
export function isolationChanges(state, isolation, word, at, by, item = null) {
  state.lines.lapse("isolation", isolation.id, word, at, item);
  if (word === "boundary") boundaryMoves(state, isolation.lineup, at);
  if (BOUNDARY_WORDS.includes(word) && isolation.stood && isolation.ended === null) {
    isolationFalls(state, isolation, at, word);
  }
  settleIsolation(state, isolation, at, by, word);
}

/** Ask the crews of a lineup again for its distances and boundaries. */
function boundaryMoves(state, lineup, at) {
  for (const crew of state.crews.values()) {
    if (!crew.lineups.includes(lineup) || crew.ended !== null) continue;
    state.lines.lapse("crew", crew.id, "boundary", at, lineup);
    settleCrew(state, crew, at, "", "boundary");
  }
}

/** Let a crew stand or fall; *quiet*: it only waits for a line, nothing changed. */
export function settleCrew(state, crew, at, by, word, { quiet = false } = {}) {
  const complete = crewComplete(state, crew);
  if (complete && !crew.stands) crew.stand(at, by);
  else if (!complete && crew.stands) {
    crew.fall(word, at);
    if (!quiet) crewLinesLapse(state, crew, at, "wider");
  }
}

/** Ask again the lines of tests that people of this crew gave. */
function crewLinesLapse(state, crew, at, word) {
  for (const card of state.lines.places("test")) {
    for (const given of state.lines.of("test", card)) {
      if (crew.people.has(given.byKey) && given.code in state.book.lines) given.lapse(word, at);
    }
  }
}

/** Leave every cell that was entered under a crew; its shift is over. */
export function crewLeaves(state, crew, at, why) {
  for (const point of [...state.points.values()]) {
    if (point.crew !== crew.id) continue;
    state.lines.lapse("point", point.cell, "shift", at);
    cellIsLeft(state, point.cell, at, why);
    settlePoint(state, point, at, "", why);
  }
  crewLinesLapse(state, crew, at, "wider");
}

/** End a crew. */
export function crewEnds(state, crew, at, why) {
  if (crew.ended !== null) return;
  crew.fall(why, at);
  crew.ended = at;
  crewLeaves(state, crew, at, why);
}

/** Call again: the number of people on the crew's lineups changed. */
export function numberChanges(state, crew, at) {
  for (const card of state.lines.places("test")) {
    if (crew.lineups.includes(state.places.lineupOfCard(card))) state.lines.lapse("test", card, "crew", at);
  }
}

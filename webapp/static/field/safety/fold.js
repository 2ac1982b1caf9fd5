// Acts, readings and signatures in order of time, each taken by the state.

import { dcOff, lineOfAfter, lineOfTest, reading, signed } from "./card_acts.js";
import { endCrew, extendCrew, lineOfCrew, openCrew, permitEnds, signOff } from "./crew_acts.js";
import { handBack, lineOfIsolation, listItem, openIsolation, openReturn, putBack } from "./isolation_acts.js";
import { cellIsLeft, crewEnds, isolationChanges, isolationFalls, settleCrew, settleIsolation, settlePoint } from "./lapses.js";
import { personKey, speaker } from "./people.js";
import { cellChanges, enter, groundMoves, leave, lineOfPoint } from "./point_acts.js";
import { HOUR, milliseconds, millisecondsOrNull } from "./times.js";

const NEVER = Infinity; // what waits on the tablet arrives after everything

/** Everything that happened, in order of time; at one moment readings come last. */
export function events(book, acts, readings, signatures, foundGood) {
  const found = acts.map(ofAct);
  const longest = Math.trunc(book.settings.shift_hours * HOUR);
  for (const act of acts) {
    if (act.act !== "open_crew") continue;
    found.push({ at: milliseconds(act.at) + longest, rank: 0, arrived: NEVER, id: act.crew, kind: "shift_over", value: act });
  }
  for (const act of acts) {
    const at = permitEnd(act);
    if (at !== null) found.push({ at, rank: 0, arrived: NEVER, id: act.id, kind: "permit_over", value: act });
  }
  for (const [card, at] of Object.entries(signatures)) {
    if (at !== null) found.push({ at: milliseconds(at), rank: 0, arrived: NEVER, id: card, kind: "signed", value: { card } });
  }
  for (const [card, turns] of Object.entries(foundGood)) {
    for (const { at, good } of turns) {
      found.push({ at: milliseconds(at), rank: 2, arrived: NEVER, id: card, kind: "found_good", value: { card, good } });
    }
  }
  for (const [card, rows] of Object.entries(readings)) {
    rows.forEach((row, index) => {
      found.push({ at: milliseconds(row.at), rank: 1, arrived: index, id: card, kind: "reading", value: { ...row, card, index } });
    });
  }
  return found.sort(before);
}

function ofAct(act) {
  const arrived = act.arrived_at ? milliseconds(act.arrived_at) : NEVER;
  return { at: milliseconds(act.at), rank: 0, arrived, id: act.id, kind: "act", value: act };
}

/** When the permit of a line ends, where it has one. */
const permitEnd = ({ act, noted }) => (act === "line" ? millisecondsOrNull(noted?.permit_end) : null);

function before(one, other) {
  if (one.at !== other.at) return one.at - other.at;
  if (one.rank !== other.rank) return one.rank - other.rank;
  if (one.arrived !== other.arrived) return one.arrived < other.arrived ? -1 : 1;
  if (one.id !== other.id) return one.id < other.id ? -1 : 1;
  return 0;
}

/** Change the state by one thing that happened. */
export function take(state, { kind, value, at }) {
  if (kind === "act") ACTS[value.act]?.(state, value);
  else if (kind === "reading") reading(state, value.card, personKey(value.by) ?? "", value.choice ?? null, at);
  else if (kind === "found_good") state.foundGood[value.card] = value.good;
  else if (kind === "permit_over") permitEnds(state, value, at);
  else if (kind === "signed") signed(state, value.card, at);
  else crewEnds(state, state.crews.get(value.crew), at, "hours");
}

const LINES = {
  crew: lineOfCrew,
  isolation: lineOfIsolation,
  point: lineOfPoint,
  test: lineOfTest,
  after: lineOfAfter,
};

function line(state, act) {
  const earlier = state.lines.find(act.scope, act.of, act.code, act.item ?? null);
  state.lines.give(act);
  if (act.code === "G22b" && act.scope === "return") {
    cellChanges(state, act.item, "counted_out", milliseconds(act.at), null);
  } else LINES[act.scope]?.(state, act, earlier);
}

function change(state, act) {
  const { of, what: word } = act;
  const at = milliseconds(act.at);
  const item = act.item ?? null;
  const by = speaker(act).name;
  if (state.crews.has(of)) {
    state.lines.lapse("crew", of, word, at, item);
    settleCrew(state, state.crews.get(of), at, by, word);
  } else if (state.isolations.has(of)) {
    isolationChanges(state, state.isolations.get(of), word, at, by, item);
    if (word === "ground") groundMoves(state, item, at);
  } else if (of in state.book.point || state.points.has(of)) {
    cellChanges(state, of, word, at, item);
  } else {
    state.lines.lapse("test", of, word, at, item);
  }
}

function override(state, act) {
  state.lines.setAside(act);
  const { of } = act;
  const at = milliseconds(act.at);
  const by = speaker(act).name;
  if (state.crews.has(of)) settleCrew(state, state.crews.get(of), at, by, "wider");
  else if (state.isolations.has(of)) settleIsolation(state, state.isolations.get(of), at, by, "wider");
  else if (state.points.has(of)) settlePoint(state, state.points.get(of), at, by, "wider");
}

function stop(state, act) {
  const { stop: id, device } = act;
  state.stops.set(id, { stop: id, by: speaker(act).name, at: milliseconds(act.at), device });
}

/** Let the work go on: everything near the gear is asked again. */
function release(state, act) {
  if (!state.stops.delete(act.stop)) return;
  const at = milliseconds(act.at);
  for (const card of state.lines.places("test")) state.lines.lapseAll("test", card, "stop", at);
  for (const isolation of state.isolations.values()) {
    if (isolation.stood && isolation.ended === null) isolationFalls(state, isolation, at, "stop", "stop");
  }
  for (const cell of [...state.points.keys()]) cellIsLeft(state, cell, at, "stop");
}

const ACTS = {
  open_crew: openCrew,
  extend_crew: extendCrew,
  end_crew: endCrew,
  sign_off: signOff,
  open_isolation: openIsolation,
  list: listItem,
  put_back: putBack,
  open_return: openReturn,
  hand_back: handBack,
  line,
  override,
  enter,
  leave,
  change,
  stop,
  release,
  dc_off: dcOff,
};

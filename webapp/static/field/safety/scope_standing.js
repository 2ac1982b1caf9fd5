// What stands of crews, clearances and cells, as JSON.

import { ofPoint, sharedOfCrew, sharedOfIsolation, signedOn } from "./asked.js";
import { neededPeople } from "./complete.js";
import { lineOf, scopeJson } from "./line_standing.js";
import { peopleNoted } from "./people.js";
import { returnJson } from "./return_standing.js";
import { momentOrNull, momentText } from "./times.js";

/** A crew with its lines, each person's own included. */
export function crewScope(state, crew) {
  if (crew === null) return scopeJson("crew", null, null, []);
  const people = [...crew.people.values()].filter(({ left }) => left === null).map(({ key }) => key);
  const missing = neededPeople(state, crew).filter((key) => key && !people.includes(key));
  const own = [...people, ...missing].flatMap((person) => state.ownOfCrew.map((code) => ({ code, item: null, person })));
  const lines = [...sharedOfCrew(state, crew), ...own].map((one) => lineOf(state, "crew", crew.id, one));
  return scopeJson("crew", crew.id, crew, lines);
}

/** A crew with its people. */
export function crewJson(state, crew) {
  return {
    ...crewScope(state, crew),
    in_charge: state.lines.find("crew", crew.id, "G01a")?.by ?? null,
    lineups: [...crew.lineups],
    planned_end: crew.plannedEnd,
    people: peopleOf(state, crew).map(memberJson),
    releasers: releasers(state, crew).map(({ name }) => name),
    sets: registerJson(state, "set", crew.id),
    places: registerJson(state, "place", crew.id),
  };
}

/** Who is of the crew, and who is named but has given no line yet. */
function peopleOf(state, crew) {
  const named = new Map();
  const charge = state.lines.find("crew", crew.id, "G01a");
  if (charge) named.set(charge.byKey, charge.by);
  const second = state.lines.find("crew", crew.id, "G02a");
  const [person] = second ? peopleNoted(second.noted, "person") : [];
  if (person) named.set(neededPeople(state, crew).at(-1), person.name);
  const missing = [...named].filter(([key]) => key && !crew.people.has(key));
  return [...crew.people.values(), ...missing.map(([key, name]) => ({ key, name, since: null, left: null }))];
}

/** Who may release a stop, as the crew's latest line names them. */
export function releasers(state, crew) {
  const given = state.lines.find("crew", crew.id, "G25b");
  return given ? peopleNoted(given.noted, "releasers") : [];
}

function memberJson({ key, name, since, left }) {
  return { key, name, since: momentOrNull(since), left: momentOrNull(left) };
}

/** A clearance with its lines, each person's own included. */
export function isolationScope(state, isolation) {
  if (isolation === null) return scopeJson("isolation", null, null, []);
  const own = state.ownOfIsolation.flatMap((code) =>
    state.lines.people("isolation", isolation.id, code).map(({ byKey }) => ({ code, item: null, person: byKey })),
  );
  const lines = [...sharedOfIsolation(state, isolation), ...own].map((one) => lineOf(state, "isolation", isolation.id, one));
  return scopeJson("isolation", isolation.id, isolation, lines);
}

/** A clearance with its registers, its people and its return. */
export function isolationJson(state, isolation) {
  const people = signedOn(state, isolation).map(({ byKey, by, at, lapsedAt }) =>
    memberJson({ key: byKey, name: by, since: at, left: lapsedAt }),
  );
  return {
    ...isolationScope(state, isolation),
    clearance: isolation.clearance,
    lineup: isolation.lineup,
    section: isolation.section,
    holder: state.lines.find("isolation", isolation.id, "G04a")?.by ?? null,
    people,
    sources: registerJson(state, "source", isolation.id),
    grounds: registerJson(state, "ground", isolation.id),
    put_back: registerJson(state, "put_back", isolation.id),
    returned_cells: [...isolation.returned],
    returning: returnJson(state, isolation),
    returning_cells: isolation.returningCells,
  };
}

function registerJson(state, register, of) {
  return [...state.items(register, of).values()].map((one) => {
    const off = state.suspensions.find(({ grounds }) => grounds?.includes(one.item));
    return {
      item: one.item,
      fields: one.fields,
      by: one.by,
      at: momentText(one.at),
      off_for: register === "ground" && off ? off.card : null,
      back: one.back && { ...one.back, at: momentText(one.back.at) },
    };
  });
}

/** A cell with its lines; it is there before anybody enters it. */
export function pointScope(state, cell) {
  if (cell === null) return scopeJson("point", null, null, []);
  const lines = ofPoint(state, cell).map((code) => lineOf(state, "point", cell, { code, item: null, person: null }));
  const point = state.points.get(cell) ?? null;
  const found = scopeJson("point", cell, point, lines);
  return point ? found : { ...found, state: "none" };
}

/** A cell with its holder. */
export function pointJson(state, cell) {
  const point = state.points.get(cell);
  return {
    ...pointScope(state, cell),
    holder: point?.holder ?? null,
    crew: point?.crew ?? null,
    entered: momentOrNull(point?.entered ?? null),
    inside: point?.inside ?? false,
  };
}

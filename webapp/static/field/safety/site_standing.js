// What stands on a site, as JSON.

import { crewJson, isolationJson, pointJson } from "./scope_standing.js";
import { momentText } from "./times.js";

/** The stop in force, crews, clearances and cells. */
export function siteJson(state) {
  const [stop] = state.stops.values();
  const cells = new Set([...Object.keys(state.book.point), ...state.points.keys()]);
  return {
    stop: stop ? { ...stop, at: momentText(stop.at) } : null,
    crews: [...state.crews.values()].map((crew) => crewJson(state, crew)),
    isolations: [...state.isolations.values()].map((one) => isolationJson(state, one)),
    points: Object.fromEntries([...cells].map((cell) => [cell, pointJson(state, cell)])),
  };
}

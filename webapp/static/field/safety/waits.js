// The order of the programme: what has to be found good before a card opens.

import { ofPoint } from "./asked.js";

/** What a card waits for and nobody set aside. */
export function waiting(state, card, person, cell) {
  const waits = state.lists(card).waits.filter(({ code }) => state.lines.aside("test", card, code) === null);
  return waits.flatMap((wait) => {
    if ("cards" in wait) {
      const cards = wait.cards.filter((one) => !state.foundGood[one]);
      return cards.length ? [{ code: "insulation_first", facts: { cards } }] : [];
    }
    const cells = wait.cells.filter((one) => !isDense(state, one, person, cell));
    return cells.length ? [{ code: "density_first", facts: { cells } }] : [];
  });
}

/** Whether gas density was read in the present shift of this person. */
function isDense(state, cell, person, own) {
  if (!ofPoint(state, cell).includes("HV6a")) return true;
  const given = state.lines.find("point", cell, "HV6a");
  const lineup = state.places.lineup(own);
  const shifts = [...state.crews.values()].filter(
    (crew) => crew.ended === null && crew.lineups.includes(lineup) && crew.people.has(person),
  );
  const begun = Math.max(0, ...shifts.map(({ opened }) => opened));
  return given !== null && given.counts && given.at >= begun;
}

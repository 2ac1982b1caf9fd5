// Where a label leads among the rounds that are held on this tablet.

import { heldRounds, readRound } from "../kept/rounds.js";
import { placeInRound } from "../scan/labelled.js";
import { roundPage } from "./urls.js";

/** The address that a label's thing has in a held round, the open ones first; or null. */
export async function placeInHeld(person, id) {
  const rounds = person ? await heldRounds(person) : [];
  rounds.sort((a, b) => (b.label.state === "open") - (a.label.state === "open"));
  for (const { round } of rounds) {
    const held = await readRound(person, round);
    const place = held && placeInRound(held.document, id);
    if (place) return roundPage(round) + place;
  }
  return null;
}

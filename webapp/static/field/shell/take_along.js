// Taking a round along: all that it needs is stored here, and the server is told.

import { Clock } from "../clock.js";
import { heldRounds, keepRound } from "../kept/rounds.js";
import { tablet } from "../kept/tablet.js";
import { post } from "../outbox.js";
import { fetchRound } from "../store.js";
import { urlsOf } from "./urls.js";
import { holdProgram } from "./worker.js";

const LONGEST_MS = 60_000; // for all files of the program, over a thin line

/**
 * Take a round along, or take it anew. Returns when it was taken (a date); throws an
 * Error that says what is missing. Only what is on the disk counts as taken.
 */
export async function takeAlong(person, round) {
  const urls = urlsOf(round);
  const document = await fetchRound(urls, new Clock());
  if (document.person.id !== person.id) throw new Error("Somebody else is signed in: sign in again.");
  if (!(await keepRound(person, document, { taken: true }))) throw new Error("This tablet cannot store it: there is no room, or the browser forbids it.");
  const { taken_at: taken } = (await heldRounds(person)).find((one) => one.round === round);
  await post(urls, urls.taken, { tablet: tablet().id, label: tablet().label, taken_at: taken }).catch(() => {
    throw new Error("It is stored here, but the server has not heard of it: press again.");
  });
  if (!(await programHeld())) throw new Error("The round is stored, the program is not yet: press again before you lose signal.");
  return new Date(taken);
}

/** Whether the program itself is held; true where there can be no worker: the page says that apart. */
async function programHeld() {
  if (!navigator.serviceWorker) return true;
  if (!(await holdProgram())) return false;
  const late = new Promise((done) => setTimeout(() => done(null), LONGEST_MS));
  return Boolean(await Promise.race([navigator.serviceWorker.ready, late]));
}

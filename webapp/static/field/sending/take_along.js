// A round is taken along on this tablet, held anew, and given back.

import { Clock } from "../clock.js";
import { giveBack, keepRound } from "../kept/rounds.js";
import { tablet } from "../kept/tablet.js";
import { post } from "../outbox.js";
import { urlsOf } from "../shell/urls.js";
import { fetchRound } from "../store.js";

/** Fetch a round and hold it; throws where there is no signal or no room. */
export async function takeAlong(person, round) {
  const urls = urlsOf(round);
  const document = await fetchRound(urls, new Clock());
  if (!(await keepRound(person, document, { taken: true }))) throw new Error("There is no room for this round on this tablet.");
  await post(urls, urls.taken, { tablet: tablet().id, taken_at: new Date().toISOString() });
}

/** Give a round back: the gate waits for this tablet no more. Throws without signal. */
export async function returnRound(person, round) {
  const urls = urlsOf(round);
  const nothing = { entries: 0, photos: 0, intents: 0, oldest_at: null };
  await post(urls, urls.told, { tablet: tablet().id, ...nothing });
  await post(urls, urls.givenBack, { tablet: tablet().id });
  await giveBack(person, round);
}

/** What went wrong, in words. */
export const failedWords = (error) => (error.state || !(error instanceof TypeError) ? error.message : "There is no signal.");

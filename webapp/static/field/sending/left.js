// How much of a round is on this tablet alone.

import { cameBack } from "../came_back/came_back.js";
import { intents } from "../signing/intents.js";

/** {entries, photos, intents, oldest_at}: what waits, was set aside or came back, and since when. */
export function leftHere(store) {
  const entries = [...store.outbox.held, ...cameBack(store)];
  const photos = store.photos?.unsent ?? [];
  const waiting = intents(store);
  const times = [...entries, ...photos, ...waiting].map(({ at }) => at).sort((a, b) => Date.parse(a) - Date.parse(b));
  return { entries: entries.length, photos: photos.length, intents: waiting.length, oldest_at: times[0] ?? null };
}

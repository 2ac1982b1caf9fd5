// What is said of what is unsent: how many, how old, and why.

import { cameBack } from "../came_back/came_back.js";
import { counted, siteTime } from "../words.js";

export const entriesWords = (count) => counted(count, "entry", "entries");

/** "3 entries kept on this tablet, the oldest of 10:42"; the time where it is worth it. */
export function keptWords(store) {
  const { entries, oldestAt } = store.outbox;
  const kept = `${entriesWords(entries.length)} kept on this tablet`;
  if (entries.length < 2 || !oldestAt) return kept;
  return `${kept}, the oldest of ${siteTime(oldestAt, store.zone).replace(" today", "")}`;
}

/** What the masthead says of the outbox; "" where nothing waits. */
export function unsentWords(store) {
  const { entries, state, why, begun } = store.outbox;
  if (!entries.length) return "";
  const kept = keptWords(store);
  if (state === "sign-in") return `Sign in again to send · ${kept}`;
  if (state === "no-signal") return `No signal · ${kept}`;
  if (state === "fault") return `${kept} · not taken: ${why}`;
  if (state !== "sending") return kept;
  if (begun > entries.length) return `Sending: ${entries.length} of ${entriesWords(begun)} left`;
  return `Sending ${entriesWords(entries.length)} …`;
}

/** What is said of what was set aside; null where nothing was. */
export function asideWords(store) {
  const count = store.outbox.aside.length;
  return count ? `${entriesWords(count)} set aside` : null;
}

/** What is said of what came back and is to be decided; null where nothing is. */
export function backWords(store) {
  const count = cameBack(store).length;
  return count ? `${entriesWords(count)} came back` : null;
}

// One call of the outbox: entries and who sends them, from which tablet.

import { deviceName, tablet } from "../kept/tablet.js";
import { post } from "../outbox.js";
import { digestOf } from "./digest.js";

// The server read the call and could not take it in: one of its entries is the reason.
const INDIGESTIBLE = new Set([413, 422, 500]);

/** Send *entries*; *left* is what this tablet holds of the round beside them. */
export async function sendEntries({ urls, person }, entries, left) {
  const sealed = await Promise.all(entries.map(withDigest));
  const envelope = { device: deviceName(), tablet: tablet().id, person: person.id, program: document.documentElement.dataset.program ?? "" };
  return post(urls, urls.entries, { ...envelope, left, entries: sealed });
}

async function withDigest(entry) {
  const digest = await digestOf(entry);
  return digest ? { ...entry, digest } : entry;
}

/** Whether a call failed by what was in it, not by the way or the session. */
export const isIndigestible = (error) => INDIGESTIBLE.has(error.status);

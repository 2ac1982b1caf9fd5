// Browsers may clear what a page keeps. It is noticed where one of two places was left.

import { getKeys } from "./database.js";
import { beside, keepBeside } from "./held_count.js";

/** Return what this tablet held and holds no more: [{count, person, label}], each said once. */
export async function noticeCleared() {
  const held = beside();
  const keys = Object.keys(held);
  if (!keys.length) return [];
  const kept = await getKeys("kept").catch(() => null);
  if (!kept) return [];
  const unsent = kept.filter(([, , name]) => /^(outbox|aside):/.test(name));
  const there = new Set(unsent.map(([person, round]) => `${person}:${round}`));
  const gone = keys.filter((key) => !there.has(key)).map((key) => held[key]);
  keepBeside(Object.fromEntries(keys.filter((key) => there.has(key)).map((key) => [key, held[key]])));
  return gone;
}

/** The sentence for the page's head. */
export function clearedWords({ count, person, label }) {
  const entries = count === 1 ? "1 entry" : `${count} entries`;
  return (
    `This browser has cleared its storage: ${entries} of ${person}${label ? ` (${label})` : ""} ` +
    "had not been sent and are gone from this tablet. Look at the round and record again what is missing."
  );
}

// Whose entries wait on this tablet: read from labels, so no key is needed.

import { get, getAll, getKeys } from "./database.js";

const KINDS = { outbox: "entries", aside: "entries", back: "entries", intent: "intents" };

/** [{person, person_name, round, label, entries, photos, originals, intents, oldest_at}], the oldest first. */
export async function waitingHere() {
  const found = new Map();
  for (const { person, round, kind, at } of [...(await keptUnsent()), ...(await photosUnsent())]) {
    const key = `${person}/${round}`;
    if (!found.has(key)) found.set(key, { person, round, entries: 0, photos: 0, originals: 0, intents: 0, oldest_at: at });
    const row = found.get(key);
    row[kind] += 1;
    if (Date.parse(at) < Date.parse(row.oldest_at)) row.oldest_at = at;
  }
  const rows = await Promise.all([...found.values()].map(labelled));
  return rows.sort((a, b) => Date.parse(a.oldest_at) - Date.parse(b.oldest_at));
}

/** Documents and drafts are large and many: only what waits is read. */
async function keptUnsent() {
  const keys = (await getKeys("kept")).filter(([, , name]) => kindOf(name));
  const rows = await Promise.all(keys.map((key) => get("kept", key)));
  return rows.filter(Boolean).map(({ person, round, name, at }) => ({ person, round, at, kind: kindOf(name) }));
}

const kindOf = (name) => KINDS[name.slice(0, name.indexOf(":"))];

async function photosUnsent() {
  const photos = await getAll("photos");
  const unsent = photos.filter(({ sent, size }) => !sent || sent < size);
  return unsent.map(({ person, round, at, original_of: of }) => ({ person, round, at, kind: of ? "originals" : "photos" }));
}

async function labelled(row) {
  const [person, round] = await Promise.all([get("people", row.person), get("rounds", [row.person, row.round])]);
  return { ...row, person_name: person?.name ?? null, label: round?.label ?? null };
}

/** Count the entries that wait here for another person or another round. */
export async function waitingElsewhere(person, roundId) {
  const found = await waitingHere().catch(() => []);
  const others = found.filter((one) => one.person !== person.id || one.round !== roundId);
  return others.reduce((sum, { entries }) => sum + entries, 0);
}

// Whose entries wait on this tablet: read from labels, so no key is needed.

import { getAll } from "./database.js";

const UNSENT = /^(outbox|aside):/;
const INTENT = /^intent:/;

/** [{person, person_name, round, label, entries, photos, intents, oldest_at}], the oldest first. */
export async function waitingHere() {
  const [people, rounds, kept, photos] = await Promise.all(["people", "rounds", "kept", "photos"].map((store) => getAll(store)));
  const names = new Map(people.map(({ id, name }) => [id, name]));
  const labels = new Map(rounds.map(({ person, round, label }) => [`${person}/${round}`, label]));
  const found = new Map();
  const of = ({ person, round }) => {
    const key = `${person}/${round}`;
    const empty = { person, person_name: names.get(person) ?? null, round, label: labels.get(key) ?? null };
    if (!found.has(key)) found.set(key, { ...empty, entries: 0, photos: 0, intents: 0, oldest_at: null });
    return found.get(key);
  };
  for (const row of kept) {
    if (UNSENT.test(row.name)) count(of(row), "entries", row.at);
    else if (INTENT.test(row.name)) count(of(row), "intents", row.at);
  }
  for (const photo of photos) if (!photo.sent || photo.sent < photo.size) count(of(photo), "photos", photo.at);
  return [...found.values()].sort((a, b) => Date.parse(a.oldest_at) - Date.parse(b.oldest_at));
}

function count(row, what, at) {
  row[what] += 1;
  if (!row.oldest_at || Date.parse(at) < Date.parse(row.oldest_at)) row.oldest_at = at;
}

/** Count the entries that wait here for another person or another round. */
export async function waitingElsewhere(person, roundId) {
  const found = await waitingHere().catch(() => []);
  const others = found.filter((one) => one.person !== person.id || one.round !== roundId);
  return others.reduce((sum, { entries }) => sum + entries, 0);
}

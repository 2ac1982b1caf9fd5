// How many unsent entries this tablet holds, written down a second time in local storage:
// where the browser clears the database away, this may be left, and then it can be said.

const BESIDE = "witnessmark-held";
const UNSENT = ["outbox:", "aside:"];
const labels = new Map();

/** Say how a round is called, for whoever reads the count later. */
export function nameRound(roundId, label) {
  labels.set(roundId, label);
}

/** Write down how many of these names are unsent entries. */
export function noteHeld(person, roundId, names) {
  const count = [...names].filter((name) => UNSENT.some((kind) => name.startsWith(kind))).length;
  const held = beside();
  const key = `${person.id}:${roundId}`;
  if ((held[key]?.count ?? 0) === count) return;
  if (count) held[key] = { count, person: person.name, label: labels.get(roundId) ?? "" };
  else delete held[key];
  keepBeside(held);
}

/** Return what the second place says: {"person:round": {count, person, label}}. */
export function beside() {
  try {
    return JSON.parse(localStorage.getItem(BESIDE)) ?? {};
  } catch {
    return {};
  }
}

export function keepBeside(held) {
  try {
    localStorage.setItem(BESIDE, JSON.stringify(held));
  } catch {
    // The database has the entries themselves.
  }
}

// The rounds held on this tablet: their documents, sealed.

import { beginningWith, get, getAll, put, remove } from "./database.js";
import { nameRound } from "./held_count.js";
import { askPersistent } from "./room.js";
import { canSeal, openText, sealText } from "./vault.js";

const LOOKED_AT = 8; // rounds only looked at that are held for a person; older ones go

/** The rounds held for a person: [{round, label, taken_at, fetched_at, bytes}]. */
export async function heldRounds(person) {
  const found = await getAll("rounds", beginningWith(person.id)).catch(() => []);
  return found.map(({ sealed: _, ...row }) => row);
}

/** Return {document, label, taken_at, fetched_at}; null where it is not held or cannot be opened. */
export async function readRound(person, roundId) {
  const row = await get("rounds", [person.id, roundId]).catch(() => null);
  if (!row) return null;
  const text = await openText(person, `${roundId}/document`, row.sealed).catch(() => null);
  if (text === null) return null;
  nameRound(roundId, labelWords(row.label));
  return { document: JSON.parse(text), label: row.label, taken_at: row.taken_at, fetched_at: row.fetched_at };
}

/**
 * Hold a round's document; true once it is on the disk.
 *
 * *taken*: it is taken along from now on, and the browser is asked to clear nothing; else that stays as it was, and a round that is
 * only looked at makes room for the next ones in time.
 */
export async function keepRound(person, document, { taken = false } = {}) {
  if (canSeal() && !person.key) return false; // whoever only reads leaves nothing behind
  const roundId = document.round.id;
  const label = labelOf(document);
  nameRound(roundId, labelWords(label));
  if (taken) askPersistent();
  try {
    const before = await get("rounds", [person.id, roundId]);
    const text = JSON.stringify(document);
    const fetched_at = new Date().toISOString();
    const taken_at = before?.taken_at ?? (taken ? fetched_at : null);
    const sealed = await sealText(person, `${roundId}/document`, text);
    await put("rounds", { person: person.id, round: roundId, label, taken_at, fetched_at, bytes: text.length, sealed });
    if (!before) await makeRoom(person);
    return true;
  } catch {
    return false;
  }
}

/** Give a round back: it is held no more. What was typed or recorded on it stays. */
export async function giveBack(person, roundId) {
  await remove("rounds", [person.id, roundId]);
}

async function makeRoom(person) {
  const looked = (await heldRounds(person)).filter(({ taken_at }) => !taken_at);
  looked.sort((a, b) => (a.fetched_at < b.fetched_at ? 1 : -1));
  const old = looked.slice(LOOKED_AT).map(({ round }) => [person.id, round]);
  if (old.length) await remove("rounds", ...old);
}

function labelOf({ site, lineup, round }) {
  return { site: site.name, lineup: lineup.name, title: round.title, state: round.state };
}

const labelWords = ({ site, lineup, title }) => `${site} · ${lineup} · ${title}`;

// What versions before kept in local storage comes into the database, once.

import { newKey } from "../new_key.js";
import { putMissing } from "./database.js";
import { keepSetting } from "./settings.js";

const CLOCK = "witnessmark-clock";
const KEPT = /^witnessmark:([^:]+):([^:]+):(.+)$/;

/** Move all of it; an item leaves local storage only once the disk has it. */
export async function moveFromBefore() {
  try {
    await moveClock();
    const keys = Object.keys(localStorage).filter((key) => KEPT.test(key));
    if (!keys.length) return;
    await putMissing("kept", keys.flatMap(rowsOf));
    for (const key of keys) localStorage.removeItem(key);
  } catch {
    // It stays where it is, and is moved at the next start.
  }
}

async function moveClock() {
  const offsetMs = localStorage.getItem(CLOCK);
  if (offsetMs !== null && (await keepSetting("clock", Number(offsetMs) || 0))) localStorage.removeItem(CLOCK);
}

/** What an item becomes; it is sealed when its person opens the round. */
function rowsOf(key) {
  const [, person, round, name] = KEPT.exec(key);
  const text = localStorage.getItem(key);
  return partsOf(name, JSON.parse(text)).map(([part, value]) => ({
    person,
    round,
    name: part,
    order: value?.order ?? 0,
    at: value?.entry?.at ?? value?.at ?? new Date().toISOString(),
    sealed: { plain: JSON.stringify(value) },
  }));
}

/** The first versions kept all drafts, and the whole outbox, as one item. */
function partsOf(name, value) {
  if (name === "drafts") return Object.entries(value).map(([card, draft]) => [`draft:${card}`, draft]);
  if (name === "outbox") return value.map((entry, order) => [`outbox:${entry.key ?? newKey()}`, { order: order + 1, entry }]);
  return [[name, value]];
}

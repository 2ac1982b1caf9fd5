// What this tablet keeps: drafts and the outbox. Nothing typed is lost on a wrong tap.

import { newKey } from "./new_key.js";

/** What is said where the storage is full or forbidden. */
export const CANNOT_KEEP = "This tablet cannot keep what is typed: its storage is full or closed.";

/** A small store under one person's and one round's name. */
export class Keep {
  constructor(personId, roundId) {
    this.prefix = `witnessmark:${personId}:${roundId}:`;
    this.broken = false;
  }

  read(name, otherwise) {
    try {
      const found = localStorage.getItem(this.prefix + name);
      return found === null ? otherwise : JSON.parse(found);
    } catch {
      return otherwise;
    }
  }

  write(name, value) {
    try {
      localStorage.setItem(this.prefix + name, JSON.stringify(value));
      this.broken = false;
    } catch {
      // The page says so: a full or forbidden storage must not look like success.
      this.broken = true;
    }
  }
}

/** Count what waits on this tablet for another person or another round. */
export function waitingElsewhere(keep) {
  try {
    return Object.keys(localStorage)
      .filter((key) => key.startsWith("witnessmark:") && key.endsWith(":outbox") && !key.startsWith(keep.prefix))
      .reduce((sum, key) => sum + JSON.parse(localStorage.getItem(key)).length, 0);
  } catch {
    return 0;
  }
}

/** Return this tablet's name, the same on every day. */
export function deviceName() {
  const key = "witnessmark-device";
  try {
    const known = localStorage.getItem(key);
    if (known) return known;
    const name = `tablet ${newKey().slice(0, 4)}`;
    localStorage.setItem(key, name);
    return name;
  } catch {
    return "tablet without storage";
  }
}

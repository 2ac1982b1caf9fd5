// What this tablet keeps: drafts and the outbox. Nothing typed is lost on a wrong tap.

import { newKey } from "./new_key.js";

/** What is said where the storage is full or forbidden. */
export const CANNOT_KEEP = "This tablet cannot keep what is typed: its storage is full or closed.";

/**
 * A small store under one person's and one round's name. Each thing kept is an item of
 * its own: two pages of one round do not overwrite what the other keeps.
 */
export class Keep {
  constructor(personId, roundId) {
    this.prefix = `witnessmark:${personId}:${roundId}:`;
    this.broken = false;
  }

  /** Return what is kept under names that begin with *kind*, by the rest of the name. */
  all(kind) {
    const found = new Map();
    try {
      for (const key of Object.keys(localStorage)) {
        const name = key.slice(this.prefix.length);
        if (key.startsWith(this.prefix + kind)) found.set(name.slice(kind.length), this.read(name));
      }
    } catch {
      // A closed storage keeps nothing.
    }
    return found;
  }

  /** Take apart what an earlier version kept as one item. */
  takeApart(name, items) {
    const whole = this.read(name, null);
    if (whole === null) return;
    for (const [part, value] of items(whole)) this.write(part, value);
    if (!this.broken) this.drop(name);
  }

  drop(name) {
    try {
      localStorage.removeItem(this.prefix + name);
    } catch {
      // What cannot be reached cannot be dropped.
    }
  }

  /** Tell *heard(name, value)* what another page of this round has kept or dropped. */
  listen(kind, heard) {
    addEventListener("storage", ({ key, newValue }) => {
      if (key?.startsWith(this.prefix + kind)) {
        heard(key.slice((this.prefix + kind).length), newValue === null ? null : JSON.parse(newValue));
      }
    });
  }

  read(name, otherwise = null) {
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
      .filter((key) => key.startsWith("witnessmark:") && !key.startsWith(keep.prefix))
      .reduce((sum, key) => sum + waitingUnder(key), 0);
  } catch {
    return 0;
  }
}

function waitingUnder(key) {
  if (key.includes(":outbox:")) return 1;
  return key.endsWith(":outbox") ? JSON.parse(localStorage.getItem(key)).length : 0;
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

// What one person keeps of one round on this tablet: drafts, the outbox, what came back.
// Memory answers at once; the disk has it, sealed, a moment later.

import { beginningWith, getAll } from "./database.js";
import { noteHeld } from "./held_count.js";
import { openText, sealText } from "./vault.js";
import { Writes } from "./writes.js";

/** What is said where the storage is full or forbidden. */
export const CANNOT_KEEP = "This tablet cannot keep what is typed: its storage is full or closed.";

/** What is said of items that this person's key does not open; null where there are none. */
export function unopenedWords({ unopened }) {
  if (!unopened.length) return null;
  const items = unopened.length === 1 ? "1 item" : `${unopened.length} items`;
  return `${items} kept here cannot be opened: sealed under another key, or changed on the disk. They stay on this tablet.`;
}

export class Keep {
  /** Read what is kept; a page whose disk cannot be read goes on in memory and says so. */
  static async open(person, roundId) {
    const keep = new Keep(person, roundId);
    await keep.fill();
    return keep;
  }

  constructor(person, roundId) {
    Object.assign(this, { person, roundId, unopened: [] });
    this.memory = new Map(); // name -> {text, value}
    this.listeners = [];
    this.watchers = [];
    this.saidBroken = false;
    this.writes = new Writes(
      (name, text) => this.made(name, text),
      (items, onDisk) => this.wrote(items, onDisk),
    );
    this.others = new BroadcastChannel(`witnessmark-kept:${this.name}`);
    this.others.onmessage = ({ data }) => this.hear(data);
    onLeaving(() => this.writes.flushNow());
  }

  /** A name of this person's round, for locks and channels. */
  get name() {
    return `${this.person.id}:${this.roundId}`;
  }

  /** Whether the disk refuses; what was written meanwhile is in memory, and tried again. */
  get broken() {
    return this.writes.broken;
  }

  async fill() {
    try {
      const rows = await getAll("kept", beginningWith(this.person.id, this.roundId));
      await Promise.all(rows.map((row) => this.take(row)));
    } catch {
      this.writes.broken = true;
    }
  }

  async take({ name, sealed }) {
    const text = await openText(this.person, this.idOf(name), sealed).catch(() => null);
    if (text === null) this.unopened.push(name);
    else if (!this.memory.has(name)) this.set(name, text);
    if (text !== null && this.person.key && sealed.plain !== undefined) this.writes.put(name, text);
  }

  idOf(name) {
    return `${this.roundId}/${name}`;
  }

  set(name, text) {
    if (text === null) this.memory.delete(name);
    else this.memory.set(name, { text, value: JSON.parse(text) });
  }

  /** Return what is kept under names that begin with *kind*, by the rest of the name. */
  all(kind) {
    const found = [...this.memory].filter(([name]) => name.startsWith(kind));
    return new Map(found.map(([name, { value }]) => [name.slice(kind.length), value]));
  }

  /** Return the value held; whoever changes it writes it again. */
  read(name, otherwise = null) {
    return this.memory.has(name) ? this.memory.get(name).value : otherwise;
  }

  write(name, value) {
    this.put(name, JSON.stringify(value));
  }

  drop(name) {
    if (this.memory.has(name)) this.put(name, null);
  }

  put(name, text) {
    this.set(name, text);
    // Counted down before the disk has it, and up after: what went is not thought cleared.
    if (text === null) noteHeld(this.person, this.roundId, this.memory.keys());
    this.writes.put(name, text);
    // Told at once: this page may be closed before the disk has answered, and another
    // page that types on the same card goes on from this.
    this.tell([{ name, text }]);
  }

  tell(items, refused = false) {
    this.others.postMessage({ items: items.map(({ name, text }) => ({ name, text })), refused });
  }

  /** Resolve to true once all that was written is on the disk, to false where that refuses. */
  written() {
    return this.writes.flush();
  }

  /** Tell *heard(name, value)* what another page of this round has kept or dropped (null). */
  listen(kind, heard) {
    this.listeners.push({ kind, heard });
  }

  /** Tell *seen()* when the disk begins to refuse, and when it takes things again. */
  watch(seen) {
    this.watchers.push(seen);
  }

  async made(name, text) {
    const key = [this.person.id, this.roundId, name];
    if (text === null) return { store: "kept", remove: key };
    const { order, at } = orderOf(this.memory.get(name)?.value);
    const sealed = await sealText(this.person, this.idOf(name), text);
    return { store: "kept", put: { person: this.person.id, round: this.roundId, name, order, at, sealed } };
  }

  wrote(items, onDisk) {
    this.tell(items, !onDisk); // a page that opened meanwhile has read the disk of before
    noteHeld(this.person, this.roundId, this.memory.keys());
    if (this.saidBroken !== this.broken) for (const seen of this.watchers) seen();
    this.saidBroken = this.broken;
  }

  /** Another page has written; what its disk refused is tried here as well. */
  hear({ items, refused }) {
    for (const { name, text } of items) {
      if (this.writes.waiting.has(name)) continue;
      if (refused) this.writes.put(name, text);
      if ((this.memory.get(name)?.text ?? null) === text) continue;
      this.set(name, text);
      this.hearItem(name);
    }
  }

  hearItem(name) {
    for (const { kind, heard } of this.listeners) {
      if (name.startsWith(kind)) heard(name.slice(kind.length), this.read(name));
    }
  }
}

/** What can be read of an item without a key: its place in the order, and its time. */
function orderOf(value) {
  return { order: value?.order ?? 0, at: value?.entry?.at ?? value?.at ?? new Date().toISOString() };
}

function onLeaving(flush) {
  for (const name of ["beforeunload", "pagehide"]) addEventListener(name, flush);
  document.addEventListener("visibilitychange", () => document.visibilityState === "hidden" && flush());
}

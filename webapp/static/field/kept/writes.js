// What is still to be written to the disk: the newest of each name, in few transactions.

import { change } from "./database.js";

const DRAFT_MS = 150; // between two writes of what is being typed
const AGAIN_MS = 5000; // between two tries of a disk that refuses

export class Writes {
  /** *made(name, text)* resolves to a change of the disk; *wrote(items, onDisk)* is told. */
  constructor(made, wrote) {
    Object.assign(this, { made, wrote, waiting: new Map(), flushing: null, timer: null, broken: false });
  }

  /** Write a text under a name, null to remove it. It is sealed at once and written soon. */
  put(name, text) {
    const item = { name, text, change: null };
    item.ready = this.made(name, text).then((one) => (item.change = one));
    this.waiting.set(name, item);
    if (name.startsWith("draft:")) this.timer ??= setTimeout(() => this.flush(), DRAFT_MS);
    else queueMicrotask(() => this.flush());
  }

  /** Resolve to whether all that was put so far is on the disk. */
  async flush() {
    clearTimeout(this.timer);
    this.timer = null;
    this.flushing ??= this.flushAll().finally(() => (this.flushing = null));
    return this.flushing;
  }

  async flushAll() {
    while (this.waiting.size) {
      const items = [...this.waiting.values()];
      await Promise.all(items.map(({ ready }) => ready));
      if (!(await this.toDisk(items))) return false;
    }
    return true;
  }

  /** The page is being left: what is sealed is given to the disk before this returns. */
  flushNow() {
    const items = [...this.waiting.values()].filter((item) => item.change);
    if (items.length) this.toDisk(items);
  }

  async toDisk(items) {
    const onDisk = await this.given(items);
    if (onDisk) for (const item of items) if (this.waiting.get(item.name) === item) this.waiting.delete(item.name);
    this.broken = !onDisk;
    if (!onDisk) this.timer ??= setTimeout(() => this.flush(), AGAIN_MS);
    this.wrote(items, onDisk);
    return onDisk;
  }

  async given(items) {
    try {
      await change(items.map((item) => item.change));
      return true;
    } catch {
      return false; // full, closed or cleared: all of it stays in memory and is tried again
    }
  }
}

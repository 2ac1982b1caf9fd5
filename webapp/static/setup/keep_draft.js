// The draft is kept on this device until it is saved: a reload loses nothing.

/** A drawer for one lineup of one person: *name* is theirs alone. */
export class KeptDraft {
  constructor(name) {
    this.name = `witnessmark:setup:${name}`;
    this.broken = false;
    this.timer = 0;
  }

  /** What is kept, {draft, version, at}, or null. */
  read() {
    try {
      return JSON.parse(localStorage.getItem(this.name));
    } catch {
      return null;
    }
  }

  /** Keep the draft soon: many keys are typed one after the other. */
  keep(draft, version) {
    this.waiting = { draft, version };
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.write(), 200);
  }

  /** Keep what waits now. */
  write() {
    clearTimeout(this.timer);
    if (!this.waiting) return;
    const kept = { ...this.waiting, at: new Date().toISOString() };
    this.waiting = null;
    try {
      localStorage.setItem(this.name, JSON.stringify(kept));
      this.broken = false;
    } catch {
      this.broken = true;
    }
  }

  drop() {
    clearTimeout(this.timer);
    this.waiting = null;
    try {
      localStorage.removeItem(this.name);
    } catch {
      // What cannot be reached cannot be dropped.
    }
  }
}

/** The hour and minute of a kept draft, with its day where that is another. */
export function keptAt(at, now = new Date()) {
  const when = new Date(at);
  const time = when.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  const today = when.toDateString() === now.toDateString();
  const day = when.toLocaleDateString("en-GB", { day: "numeric", month: "long" });
  return today ? time : `${day}, ${time}`;
}

// When to try again without signal: soon at first, then ever less often.

const FIRST_MS = 2000;
const LONGEST_MS = 60000;
const SPREAD = 0.2; // so that the tablets of a crew do not all come at once

/** Calls *again* after a pause that doubles with each try that failed. */
export class Pauses {
  constructor(again) {
    Object.assign(this, { again, failed: 0, timer: null });
  }

  wait() {
    const spread = 1 + SPREAD * (Math.random() - 0.5);
    const pauseMs = Math.min(FIRST_MS * 2 ** this.failed, LONGEST_MS) * spread;
    this.failed += 1;
    clearTimeout(this.timer);
    this.timer = setTimeout(this.again, pauseMs);
  }

  end() {
    this.failed = 0;
    clearTimeout(this.timer);
  }
}

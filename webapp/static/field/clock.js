// The clock: this tablet's, corrected by the time that the server says.

import { keepSetting, setting } from "./kept/settings.js";

const WORTH_SAYING_MS = 2 * 60 * 1000;
const EVENED_MS = 5000;
const TREMBLE_MS = 1000; // less may come from the way, and would shuffle what is recorded

export class Clock {
  constructor() {
    this.offsetMs = setting("clock", 0); // the server's time less this tablet's
    this.lastMs = 0;
    this.putBackMs = 0; // while the page was open, and not yet compared with the server
    this.mark();
  }

  /**
   * Take the time of an answer; *sentMs* and *receivedMs* are this tablet's around it.
   *
   * A clock ahead is put right at once: what is recorded would come from the future. One
   * a little behind is left alone.
   */
  hear(serverTime, sentMs, receivedMs = Date.now()) {
    this.tabletMs(); // a clock that was set meanwhile is noticed before it is compared
    const offsetMs = Date.parse(serverTime) - (sentMs + receivedMs) / 2;
    const behind = offsetMs > this.offsetMs;
    const doubtMs = (receivedMs - sentMs) / 2 + (behind ? TREMBLE_MS : 0);
    if (!Number.isFinite(offsetMs)) return;
    this.putBackMs = 0;
    if (Math.abs(offsetMs - this.offsetMs) <= doubtMs) return;
    this.correct(offsetMs);
  }

  correct(offsetMs) {
    this.offsetMs = Math.round(offsetMs);
    keepSetting("clock", this.offsetMs);
  }

  /** Remember where the clock stands beside one that nobody sets. */
  mark() {
    this.markedMs = Date.now();
    this.runMs = performance.now();
  }

  /**
   * This tablet's time. Where its clock was put back while the page is open, what is
   * recorded goes on from the time before: a reading is not to come before the lines that
   * opened its card. A clock put forward looks like a tablet that slept, in which
   * performance.now() may stand still: that waits for the server's time.
   */
  tabletMs() {
    const backMs = this.markedMs + performance.now() - this.runMs - Date.now();
    this.mark();
    if (backMs > EVENED_MS) {
      this.putBackMs += backMs;
      this.correct(this.offsetMs + backMs);
    }
    return this.markedMs;
  }

  /**
   * What waits on this tablet was recorded last at this moment: its clock was put back
   * while no page was open, where it is to come by more than a tremble.
   */
  follows(ms) {
    const backMs = ms - this.tabletMs() - this.offsetMs;
    this.heard(ms);
    if (!(backMs > EVENED_MS)) return;
    this.putBackMs += backMs;
    this.correct(this.offsetMs + backMs);
    this.lastMs = ms;
  }

  /** The server's time now, in milliseconds; never before what was recorded or heard. */
  now() {
    return this.evened(this.tabletMs() + this.offsetMs);
  }

  /** The time of what is recorded now (RFC 3339, this tablet's zone): each later than the last. */
  stamp() {
    this.lastMs = this.evened(this.tabletMs() + this.offsetMs, 1);
    return zoned(this.lastMs);
  }

  /** Something was heard that happened at this moment: it is not to come. */
  heard(ms) {
    if (ms - this.tabletMs() - this.offsetMs < EVENED_MS) this.lastMs = Math.max(this.lastMs, ms);
  }

  /** Only a tremble is evened out: a clock that was put right goes on from there. */
  evened(ms, more = 0) {
    const early = ms < this.lastMs + more && this.lastMs - ms < EVENED_MS;
    return early ? this.lastMs + more : ms;
  }

  /** The notice of a clock that is far off; null while it is near enough. */
  words() {
    if (this.putBackMs > WORTH_SAYING_MS) {
      return (
        `This tablet's clock was put back by ${Math.round(this.putBackMs / 60000)} minutes; ` +
        "what is recorded here goes on from the time before, until the server is heard."
      );
    }
    const minutes = Math.round(Math.abs(this.offsetMs) / 60000);
    if (Math.abs(this.offsetMs) <= WORTH_SAYING_MS) return null;
    const side = this.offsetMs < 0 ? "ahead of" : "behind";
    return (
      `This tablet's clock is ${minutes} minutes ${side} the server's; ` +
      "what is recorded here carries the server's time."
    );
  }
}

function zoned(ms) {
  const offset = -new Date(ms).getTimezoneOffset();
  const shifted = new Date(ms + offset * 60000).toISOString().slice(0, -1);
  const two = (number) => String(Math.trunc(Math.abs(number))).padStart(2, "0");
  return `${shifted}${offset < 0 ? "-" : "+"}${two(offset / 60)}:${two(offset % 60)}`;
}

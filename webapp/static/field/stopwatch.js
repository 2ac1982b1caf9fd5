// A clock beside timed readings: it says when to read. What is read is typed by hand.

import { h } from "./dom.js";
import { callOut } from "./end_of_timer.js";
import { timeWords } from "./series_curve.js";

const TICK_MS = 250;
const BEFORE_S = 5; // so long before its moment a cell is pointed at
const LATE_S = 10; // and so long after it
const LONGEST_S = 3600; // a clock left running is no longer the test's

/**
 * The clock. *begun*: when it was started (ms), kept with the draft, so that a page
 * that is opened again goes on; *marks()*: [{at, done}] in seconds; *due(index)*: the
 * cell to be read next is pointed at, or none (-1).
 */
export class Stopwatch {
  constructor({ begun, keep, marks, due }) {
    Object.assign(this, { keep, marks, due, called: null });
    this.begun = begun && Date.now() - begun < LONGEST_S * 1000 ? begun : null;
    this.time = h("span", { class: "clock-time" });
    this.call = h("span", { class: "clock-call", role: "status" });
    this.button = h("button", { type: "button", class: "button", onclick: () => this.press() });
    this.node = h("div", { class: "clock" }, this.call, this.time, this.button);
    this.show();
    if (this.begun) this.run();
  }

  press() {
    this.begun = this.begun ? null : Date.now();
    this.keep(this.begun ?? undefined);
    this.called = null;
    this.show();
    if (this.begun) this.run();
    else this.stop();
  }

  run() {
    this.timer = setInterval(() => this.tick(), TICK_MS);
  }

  stop() {
    clearInterval(this.timer);
    this.due(-1);
  }

  tick() {
    // Once it is drawn anew, the clock on the new page goes on.
    if (!this.node.isConnected) return clearInterval(this.timer);
    const { seconds, index, mark } = this.next();
    this.show();
    if (mark && seconds >= mark.at && this.called !== mark.at) {
      this.called = mark.at;
      callOut();
    }
    return this.due(mark && seconds >= mark.at - BEFORE_S ? index : -1);
  }

  /** The moment to come, or the one that has just come and is not read yet. */
  next() {
    const seconds = this.begun ? Math.max(0, (Date.now() - this.begun) / 1000) : 0;
    const marks = this.marks();
    const index = marks.findIndex(({ at, done }) => !done && at >= seconds - LATE_S);
    return { seconds, index, mark: marks[index] };
  }

  show() {
    const { seconds, mark } = this.next();
    this.time.textContent = clockWords(seconds);
    this.button.textContent = this.begun ? "Stop the clock" : "Start the clock";
    const said = this.begun ? callWords(seconds, mark) : "";
    // A screen reader speaks only when the words change.
    if (this.call.textContent !== said) this.call.textContent = said;
  }
}

function clockWords(seconds) {
  const rest = String(Math.floor(seconds) % 60).padStart(2, "0");
  return `${Math.floor(seconds / 60)}:${rest}`;
}

function callWords(seconds, mark) {
  if (!mark) return "No moment is left";
  return seconds >= mark.at ? `Read now: ${timeWords(mark.at)}` : `Next at ${timeWords(mark.at)}`;
}

// What others said and recorded meanwhile: asked for while somebody looks at the page.

import { ACCEPT, json } from "./outbox.js";

const EVERY_MS = 1500; // a stop is to be heard within 3 s, the way there and back included
const LONGEST_MS = 30000; // between two tries without signal
const PATIENCE_MS = 8000; // for one answer

export class News {
  /**
   * *heard(answer, sentMs)* gets what is new at *address()*, one answer after the other;
   * *turned()* is told when the first question after an answer failed, and the other way.
   */
  constructor(address, heard, turned) {
    Object.assign(this, { address, heard, turned, failed: 0, asking: false, timer: null });
    const atOnce = () => this.ask();
    addEventListener("online", atOnce);
    addEventListener("focus", atOnce);
    document.addEventListener("visibilitychange", atOnce);
    this.wait();
  }

  /** Ask once; the next time is set when the answer has come or failed. */
  async ask() {
    if (this.asking || document.visibilityState !== "visible") return;
    this.asking = true;
    const sentMs = Date.now();
    const answer = await this.answer().catch(() => null);
    this.asking = false;
    const before = this.failed > 0;
    this.failed = answer ? 0 : this.failed + 1;
    this.wait();
    if (answer) this.heard(answer, sentMs);
    if (before !== this.failed > 0) this.turned();
  }

  async answer() {
    const signal = AbortSignal.timeout(PATIENCE_MS);
    return json(await fetch(this.address(), { headers: ACCEPT, signal }));
  }

  wait() {
    clearTimeout(this.timer);
    const againMs = Math.min(EVERY_MS * 2 ** this.failed, LONGEST_MS);
    this.timer = setTimeout(() => this.ask(), againMs);
  }
}

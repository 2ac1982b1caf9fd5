// An axis of a drawing: from a value to a place and back, and where the ticks are.

import { ends } from "./ends.js";

const STEPS = [1, 2, 5, 10];
const MOST_FINE = 1000; // times: a longer logarithmic scale has a tick a decade

/** Maps *low*..*high* to *start*..*end*, straight or by the logarithm. */
export class Axis {
  constructor(low, high, start, end, logarithmic) {
    Object.assign(this, ends(low, high, logarithmic), { start, end, logarithmic });
  }

  place(value) {
    const at = Math.min(Math.max(value, this.low), this.high);
    const share = this.logarithmic
      ? Math.log(at / this.low) / Math.log(this.high / this.low)
      : (at - this.low) / (this.high - this.low);
    return this.start + share * (this.end - this.start);
  }

  /** The value that lies at a place of the drawing. */
  at(place) {
    const share = Math.min(Math.max((place - this.start) / (this.end - this.start), 0), 1);
    return this.logarithmic ? this.low * (this.high / this.low) ** share : this.low + share * (this.high - this.low);
  }

  ticks() {
    return this.logarithmic ? this.round() : this.even();
  }

  round() {
    const found = [];
    const each = this.high / this.low > MOST_FINE ? [1] : [1, 2, 5];
    const last = Math.ceil(Math.log10(this.high));
    for (let e = Math.floor(Math.log10(this.low)); e <= last; e += 1) {
      for (const m of each) found.push(Number(`${m}e${e}`));
    }
    return found.filter((value) => value >= this.low && value <= this.high);
  }

  even() {
    const rough = (this.high - this.low) / 5;
    const power = 10 ** Math.floor(Math.log10(rough));
    const step = STEPS.find((n) => n * power >= rough * (1 - 1e-9)) * power;
    const found = [];
    for (let n = Math.ceil(this.low / step); n * step <= this.high * (1 + 1e-9); n += 1) found.push(n * step);
    return found;
  }
}

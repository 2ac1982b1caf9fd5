// One serial port (Web Serial): opened, asked one question at a time, closed.

import { Lines, textOf, WireError } from "./lines.js";

const QUIET_MS = 150; // so long after an answer nothing more may come
const BUFFER_BYTES = 4096;
const LINE_END = { lf: "\n", cr: "\r", crlf: "\r\n" };

const UNPLUGGED = "The instrument is not on the wire any more: it was unplugged or switched off.";
const NOT_OPEN = "The port does not open: another program or page may hold it, or the instrument is off.";

/** A wire to one instrument; *settings* as ./settings.js has them. */
export class Wire {
  constructor(port, settings) {
    Object.assign(this, { port, settings, lines: new Lines(), gone: "", fault: null, asking: false });
    this.woken = () => {};
    this.echoes = false; // whether the instrument sends back what it is asked
    this.known = null; // its answer to *IDN?, by which a late answer is passed over
    this.late = false; // whether an answer may still be on its way
  }

  async open() {
    const { baud, bits, parity, stop } = this.settings;
    try {
      await this.port.open({ baudRate: baud, dataBits: bits, parity, stopBits: stop, bufferSize: BUFFER_BYTES });
    } catch {
      throw new WireError(NOT_OPEN);
    }
    this.taking = this.take();
  }

  /** Take what comes, until the port is closed or lost. */
  async take() {
    let from = null;
    while (this.port.readable && this.port.readable !== from && !this.gone) {
      from = this.port.readable;
      this.reader = from.getReader();
      await this.takeFrom(this.reader);
    }
    this.gone ||= UNPLUGGED;
    this.woken();
  }

  async takeFrom(reader) {
    try {
      for (;;) {
        const { value, done } = await reader.read();
        if (done) break;
        this.heard(value);
      }
    } catch (error) {
      // A parity or framing fault leaves the port open, with a new stream; a lost one does not.
      this.fault = faultWords(error);
    } finally {
      reader.releaseLock();
      this.woken();
    }
  }

  heard(bytes) {
    try {
      this.lines.feed(bytes);
    } catch (error) {
      this.fault = error.message;
      this.lines.clear();
    }
    this.woken();
  }

  /** Ask *question* and return its one answer; throws WireError, and then nothing was read. */
  async ask(question, waitS = this.settings.wait) {
    if (this.asking) throw new WireError("The instrument is still being asked: wait for its answer.");
    this.asking = true;
    try {
      if (this.late && this.known) await this.passLate(waitS);
      this.late = true;
      const answer = await this.exchange(question, waitS);
      this.late = false;
      return answer;
    } finally {
      this.asking = false;
    }
  }

  async exchange(question, waitS) {
    this.begin();
    await this.send(question);
    const until = performance.now() + waitS * 1000;
    const first = await this.line(until, waitS);
    const echo = first === question;
    if (echo) this.echoes = true;
    const answer = echo ? await this.line(until, waitS, true) : first;
    await this.nothingMore(answer);
    return answer;
  }

  /** An answer that came too late is never taken for the next one: ask by name first. */
  async passLate(waitS) {
    this.begin();
    await this.send("*IDN?");
    const until = performance.now() + waitS * 1000;
    while ((await this.line(until, waitS)) !== this.known);
    this.late = false;
  }

  begin() {
    if (this.gone) throw new WireError(this.gone);
    this.lines.clear();
    this.fault = null;
  }

  async send(text) {
    const bytes = new TextEncoder().encode(text + LINE_END[this.settings.end]);
    const writer = this.port.writable?.getWriter();
    if (!writer) throw new WireError(UNPLUGGED);
    try {
      await within(writer.write(bytes), this.settings.wait * 1000);
    } catch (error) {
      throw new WireError(error.name === "TimeoutError" ? "The instrument takes no question: look at the handshake of its port." : UNPLUGGED);
    } finally {
      writer.releaseLock();
    }
  }

  /** The next whole line; throws once *until* is over. */
  async line(until, waitS, echoed = false) {
    for (;;) {
      if (this.fault) throw new WireError(this.fault);
      if (this.lines.whole.length) return textOf(this.lines.whole.shift());
      if (this.gone) throw new WireError(this.gone);
      const left = until - performance.now();
      if (left <= 0) throw new WireError(this.silence(waitS, echoed));
      await this.change(left);
    }
  }

  silence(waitS, echoed) {
    const { rest } = this.lines;
    if (rest.length) return `Half an answer came, “${textOf(rest)}”, without its end: look at the cable, the speed and the line end.`;
    if (echoed) return `Only the question came back within ${waitS} s, and no answer.`;
    return `No answer within ${waitS} s: look at the cable, the speed and the query.`;
  }

  async nothingMore(answer) {
    const until = performance.now() + QUIET_MS;
    while (!this.lines.rest.length && !this.lines.whole.length && performance.now() < until && !this.gone) {
      await this.change(until - performance.now());
    }
    const more = this.lines.whole[0] ?? this.lines.rest;
    if (more.length) throw new WireError(`More than one answer came, “${answer}” and “${textOf(more)}”: ask for one value.`);
    if (this.fault) throw new WireError(this.fault);
  }

  /** Wait until something came, or for *ms* at most. */
  change(ms) {
    return new Promise((resolve) => {
      const timer = setTimeout(resolve, Math.max(0, ms));
      this.woken = () => {
        clearTimeout(timer);
        resolve();
      };
    });
  }

  async close() {
    this.gone ||= "The wire is disconnected.";
    await this.reader?.cancel().catch(() => {});
    await this.taking?.catch(() => {});
    await this.port.close().catch(() => {});
  }
}

function faultWords({ name }) {
  const words = {
    ParityError: "The parity of what came is wrong: parity or speed differ from the instrument's.",
    FramingError: "What came is out of step: speed, bits or stop bits differ from the instrument's.",
    BreakError: "The wire was interrupted while the answer came.",
    BufferOverrunError: "More came than the tablet could take: ask again.",
  };
  return words[name] ?? UNPLUGGED;
}

function within(promise, ms) {
  const over = new Promise((_, reject) => setTimeout(() => reject(new DOMException("", "TimeoutError")), ms));
  return Promise.race([promise, over]);
}

// An instrument on a wire, for the tests: it takes the place of navigator.serial and answers
// as IEEE 488.2 and SCPI-99 say, by a parser of its own. Bytes go by real streams.
// `instrument` says how it behaves; a test changes it while the page is open.

(() => {
  const instrument = {
    who: "Plinth Works,IR 10,S-IR-1,1.02",
    baud: 9600,
    value: "+4.81234E+09",
    end: "\n",
    does: "answers", // or one of the ways to go wrong: see `ways`
    errors: [], // of the list that SYST:ERR? takes from
    knowsErrors: true,
    pieces: 3, // an answer comes in so many pieces
    ports: 1,
    allowed: false,
    asked: [],
    late: 0, // answers that are still to come
  };
  window.instrument = instrument;

  // What an answer to a question for a value becomes on its way.
  const ways = {
    answers: (answer) => [answer + instrument.end],
    "stays silent": () => [],
    "sends half": (answer) => [answer.slice(0, 5)],
    "answers twice": (answer) => [answer + instrument.end, answer + instrument.end],
    "answers late": (answer) => [{ after: 3000 }, answer + instrument.end],
    "answers when told": (answer) => [{ whenTold: true }, answer + instrument.end], // by instrument.tell()
    "sends garbage": () => [new Uint8Array([0x8f, 0xe2, 0x03, 0x10])],
    "echoes only": (_, question) => [question + "\r\n"],
    echoes: (answer, question) => [question + "\r\n", answer + instrument.end],
    "has a parity fault": () => [{ fault: "ParityError" }],
    "is unplugged": (answer) => [answer.slice(0, 4), { fault: "NetworkError" }],
    "never ends": () => ["9".repeat(600)],
  };

  const header = (text) => text.trim().replace(/^:/, "").toUpperCase();

  function answerTo(question) {
    instrument.asked.push(question);
    const name = header(question);
    if (name === "*IDN?") return [instrument.who + instrument.end];
    if (/^SYST(EM)?:ERR(OR)?(:NEXT)?\?$/.test(name)) {
      return instrument.knowsErrors ? [(instrument.errors.shift() ?? '0,"No error"') + instrument.end] : [];
    }
    if (/^(FETC(H)?|READ|MEAS(URE)?:[A-Z:]+)\?$/.test(name)) return ways[instrument.does](instrument.value, question);
    instrument.errors.push('-113,"Undefined header"');
    return [];
  }

  class Port extends EventTarget {
    readable = null;
    writable = null;

    async open({ baudRate }) {
      if (this.readable) throw new DOMException("open", "InvalidStateError");
      if (instrument.held) throw new DOMException("held", "NetworkError");
      this.right = baudRate === instrument.baud;
      this.begin();
      let typed = "";
      this.writable = new WritableStream({
        write: (bytes) => {
          typed += new TextDecoder().decode(bytes);
          const questions = typed.split(/\r\n|\r|\n/);
          typed = questions.pop();
          for (const question of questions.filter(Boolean)) this.answer(question);
        },
      });
    }

    begin() {
      this.readable = new ReadableStream({ start: (into) => { this.into = into; } });
    }

    async answer(question) {
      for (const part of answerTo(question)) {
        if (part.after) await this.wait(part.after);
        else if (part.whenTold) await new Promise((resolve) => { instrument.tell = resolve; });
        else if (part.fault) this.fail(part.fault);
        else await this.send(part);
      }
    }

    async wait(ms) {
      instrument.late += 1;
      await new Promise((resolve) => setTimeout(resolve, ms));
      setTimeout(() => { instrument.late -= 1; }, 100); // it is sent by then
    }

    async send(part) {
      const bytes = typeof part === "string" ? new TextEncoder().encode(part) : part;
      // At another speed the same edges on the wire are other bytes.
      const heard = this.right ? bytes : bytes.map((byte) => (byte * 7 + 131) & 0xff);
      const step = Math.ceil(heard.length / instrument.pieces);
      for (let at = 0; at < heard.length; at += step) {
        this.into.enqueue(heard.slice(at, at + step));
        await new Promise((resolve) => setTimeout(resolve, 2));
      }
    }

    fail(name) {
      const broken = this.into;
      // As Web Serial has it: after a fault that is not fatal there is a new stream.
      if (name === "NetworkError") this.readable = this.writable = null;
      else this.begin();
      broken.error(new DOMException("fault", name));
    }

    async close() {
      this.readable = this.writable = null;
    }
  }

  const ports = [new Port(), new Port()];
  const serial = {
    async requestPort() {
      if (!navigator.userActivation.isActive) throw new DOMException("no tap", "SecurityError");
      if (instrument.refuses) throw new DOMException("none", instrument.refuses);
      instrument.allowed = true;
      return ports[0];
    },
    getPorts: async () => (instrument.allowed ? ports.slice(0, instrument.ports) : []),
  };
  Object.defineProperty(Navigator.prototype, "serial", { configurable: true, get: () => serial });
})();

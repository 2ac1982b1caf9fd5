// Bytes from a wire, as lines of text. An answer of IEEE 488.2 is ASCII and ends with a line end.

const LONGEST = 512; // bytes of one answer: what is longer is no reading
const SHOWN_BYTES = 8;
const LINE_ENDS = [10, 13]; // LF, CR: either ends a line, and both together end one

/** What went wrong on the wire: a sentence for the person at the tablet. */
export class WireError extends Error {
  name = "WireError";
}

/** Takes bytes as they come, and gives whole lines. */
export class Lines {
  constructor() {
    this.whole = []; // lines, each an array of bytes
    this.rest = [];
  }

  feed(bytes) {
    for (const byte of bytes) {
      if (!LINE_ENDS.includes(byte)) this.rest.push(byte);
      else if (this.rest.length) this.whole.push(this.rest.splice(0));
    }
    if (this.rest.length > LONGEST) throw new WireError("What comes has no line end: look at speed and line end.");
  }

  clear() {
    this.whole = [];
    this.rest = [];
  }
}

/** Return bytes as text; throws where they are none. */
export function textOf(bytes) {
  if (bytes.every(isPrinted)) return String.fromCharCode(...bytes).trim();
  const shown = bytes.slice(0, SHOWN_BYTES).map((byte) => byte.toString(16).padStart(2, "0").toUpperCase());
  throw new WireError(`What came is no text (bytes ${shown.join(" ")}): speed, bits or parity differ from the instrument's.`);
}

const isPrinted = (byte) => byte === 9 || (byte >= 0x20 && byte <= 0x7e);

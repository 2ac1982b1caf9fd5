// The outbox: what this tablet has recorded and the server has not yet confirmed.

import { deviceName } from "./keep.js";
import { newKey } from "./new_key.js";

const AGAIN_MS = 8000; // between two tries without signal
const PART = 100; // entries in one call

export class Outbox {
  /** *answered(entry, result)* is told what became of each entry. */
  constructor(keep, urls, answered, changed) {
    this.keep = keep;
    this.urls = urls;
    this.answered = answered;
    this.changed = changed;
    this.entries = keep.read("outbox", []);
    this.state = "idle"; // idle, sending, no-signal, sign-in, fault
    this.why = "";
    addEventListener("online", () => this.send());
    setInterval(() => this.entries.length && this.send(), AGAIN_MS);
  }

  /** Keep entries and send them; the key is made here, so sending twice is harmless. */
  add(...entries) {
    for (const entry of entries) {
      this.entries.push({ key: newKey(), at: now(), ...entry });
    }
    this.keep.write("outbox", this.entries);
    this.send();
    return this.entries.slice(-entries.length);
  }

  of(cardId) {
    return this.entries.filter((entry) => entry.card_id === cardId);
  }

  async send() {
    if (this.state === "sending" || !this.entries.length) return;
    this.become("sending");
    try {
      while (this.entries.length) await this.sendPart(this.entries.slice(0, PART));
      this.become("idle");
    } catch (error) {
      this.become(error.state ?? "no-signal", error.state ? error.message : "");
    }
  }

  async sendPart(part) {
    const answer = await post(this.urls, this.urls.entries, {
      device: deviceName(),
      entries: part,
    });
    const results = new Map(answer.results.map((result) => [result.key, result]));
    const done = part.filter((entry) => results.has(entry.key));
    if (!done.length) throw stopped("fault", "The server did not answer for any entry.");
    this.entries = this.entries.filter((entry) => !results.has(entry.key));
    this.keep.write("outbox", this.entries);
    for (const entry of done) this.answered(entry, results.get(entry.key));
  }

  become(state, why = "") {
    this.state = state;
    this.why = why;
    this.changed();
  }
}

/** Return the time with this tablet's offset. */
export function now() {
  const at = new Date();
  const offset = -at.getTimezoneOffset();
  const shifted = new Date(at.getTime() + offset * 60000).toISOString().slice(0, -1);
  const two = (number) => String(Math.trunc(Math.abs(number))).padStart(2, "0");
  return `${shifted}${offset < 0 ? "-" : "+"}${two(offset / 60)}:${two(offset % 60)}`;
}

/** Post JSON with a fresh token; throws an Error with `state` and `faults`. */
export async function post(urls, url, body) {
  const { token } = await json(await fetch(urls.csrf, { headers: ACCEPT }));
  return json(
    await fetch(url, {
      method: "POST",
      headers: { ...ACCEPT, "Content-Type": "application/json", "X-CSRFToken": token },
      body: JSON.stringify(body),
    }),
  );
}

export const ACCEPT = { Accept: "application/json" };

/** Return the body, or throw what the server said. */
export async function json(response) {
  if (response.status === 401 || response.redirected) {
    throw stopped("sign-in", "Sign in again to send what this tablet keeps.");
  }
  const body = await response.json().catch(() => null);
  if (response.ok && body) return body;
  const faults = body?.faults ?? [];
  const said = faults.map((fault) => fault.message).join(" ");
  const error = stopped("fault", said || `The server answered ${response.status}.`);
  error.faults = faults;
  error.status = response.status;
  throw error;
}

function stopped(state, message) {
  return Object.assign(new Error(message), { state });
}

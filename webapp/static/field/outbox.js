// The outbox: what this tablet has recorded and the server has not yet confirmed.

import { deviceName } from "./kept/tablet.js";
import { newKey } from "./new_key.js";

const AGAIN_MS = 8000; // between two tries without signal
const PART = 100; // entries in one call

export class Outbox {
  /** *answered(entry, result)* is told what became of each entry, whichever page sent it. */
  constructor(keep, urls, clock, answered, changed) {
    this.keep = keep;
    this.urls = urls;
    this.clock = clock;
    this.answered = answered;
    this.changed = changed;
    this.state = "idle"; // idle, sending, no-signal, sign-in, fault
    this.why = "";
    this.queued = false;
    this.look();
    this.others = new BroadcastChannel(`witnessmark-outbox:${keep.name}`);
    this.others.onmessage = ({ data }) => this.hear(data);
    keep.listen("outbox:", () => this.hear([]));
    addEventListener("online", () => this.send());
    setInterval(() => this.entries.length && this.send(), AGAIN_MS);
  }

  /** See what every page of this round keeps, in the order in which it was recorded. */
  look() {
    const kept = [...this.keep.all("outbox:").values()];
    this.entries = kept.sort((a, b) => a.order - b.order).map(({ entry }) => entry);
  }

  /** Keep entries and send them; the key is made here, so sending twice is harmless. */
  add(...entries) {
    const made = entries.map((entry) => ({ key: newKey(), at: this.clock.stamp(), ...entry }));
    for (const entry of made) this.keep.write(`outbox:${entry.key}`, ordered(entry));
    this.look();
    this.send();
    return made;
  }

  of(cardId) {
    return this.entries.filter((entry) => entry.card_id === cardId);
  }

  /** Send what waits, one page of this round after the other. */
  async send() {
    if (this.queued || !this.entries.length) return;
    this.queued = true;
    await inTurn(`witnessmark-sending:${this.keep.name}`, () => this.sendAll());
    this.queued = false;
    if (this.state === "idle") this.send();
  }

  async sendAll() {
    this.look();
    if (!this.entries.length) return this.become("idle");
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
    const answers = done.map((entry) => [entry, results.get(entry.key)]);
    this.settle(answers);
    this.others.postMessage(answers);
  }

  /** What was answered waits no more. */
  settle(answers) {
    for (const [{ key }] of answers) this.keep.drop(`outbox:${key}`);
    this.look();
    for (const [entry, result] of answers) this.answered(entry, result);
  }

  /** Another page has recorded or dropped an entry (no answers), or was answered. */
  hear(answers) {
    this.settle(answers);
    if (!this.entries.length && !this.queued) this.state = "idle";
    this.changed();
  }

  become(state, why = "") {
    this.state = state;
    this.why = why;
    this.changed();
  }
}

let recorded = 0;

/** An entry with its place in the order of recording, on every page of this tablet. */
function ordered(entry) {
  recorded += 1;
  return { order: Date.now() + (recorded % 1000) / 1000, entry };
}

/** Act when no other page holds *name*; where the browser has no locks, at once. */
async function inTurn(name, act) {
  if (!navigator.locks) return act(); // no HTTPS: an entry may be sent twice, to no harm
  return navigator.locks.request(name, act);
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

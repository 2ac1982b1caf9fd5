// The outbox: what this tablet has recorded and the server has not yet confirmed.

import { newKey } from "./new_key.js";
import { isIndigestible, sendEntries } from "./sending/call.js";
import { Pauses } from "./sending/pauses.js";

const PART = 100; // entries in the first call
const MOST = 400; // once the way is good: the server takes 500
const ONE_MORE = 1 / 1024; // of a millisecond, exact beside today's
const TRIES = 2; // of an entry alone, before it is set aside

export class Outbox {
  /**
   * *sender*: {urls, person, left()}; *answered(entry, result)* is told what became of
   * each entry, whichever page sent it.
   */
  constructor(keep, sender, clock, answered, changed) {
    Object.assign(this, { keep, sender, clock, answered, changed });
    this.state = "idle"; // idle, sending, no-signal, sign-in, fault
    this.why = "";
    this.queued = false;
    this.part = PART;
    this.begun = 0; // how many there were when sending began
    this.pauses = new Pauses(() => this.send());
    this.lastOrder = 0;
    this.look();
    const newest = this.entries.at(-1);
    if (newest) clock.follows(Date.parse(newest.at));
    this.others = new BroadcastChannel(`witnessmark-outbox:${keep.name}`);
    this.others.onmessage = ({ data }) => this.hear(data);
    keep.listen("outbox:", () => this.hear([]));
    keep.listen("aside:", () => this.hear([]));
    for (const event of ["online", "focus"]) addEventListener(event, () => this.send());
    document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && this.send());
  }

  /** See what every page of this round keeps, in the order in which it was recorded. */
  look() {
    const waiting = inOrder(this.keep.all("outbox:"));
    this.entries = waiting.map(({ entry }) => entry);
    this.aside = inOrder(this.keep.all("aside:"));
    for (const { order } of [...waiting.slice(-1), ...this.aside.slice(-1)]) this.lastOrder = Math.max(this.lastOrder, order);
  }

  /** Keep entries and send them; the key is made here, so sending twice is harmless. */
  add(...entries) {
    const made = entries.map((entry) => ({ key: newKey(), at: this.clock.stamp(), offset_ms: this.clock.offsetMs, ...entry }));
    for (const entry of made) this.keep.write(`outbox:${entry.key}`, this.ordered(entry));
    this.look();
    this.send();
    return made;
  }

  /** An entry with its place in the order of recording, which a clock that is put back leaves as it is. */
  ordered(entry) {
    this.lastOrder = Math.max(Date.now(), this.lastOrder + ONE_MORE);
    return { order: this.lastOrder, entry };
  }

  /** What waits, with what was set aside. */
  get held() {
    return [...this.aside.map(({ entry }) => entry), ...this.entries];
  }

  of(cardId) {
    return this.held.filter((entry) => entry.card_id === cardId);
  }

  /** When the oldest that waits was recorded (RFC 3339); null where nothing waits. */
  get oldestAt() {
    const times = this.held.map(({ at }) => at);
    return times.sort((a, b) => Date.parse(a) - Date.parse(b))[0] ?? null;
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
    this.begun = this.entries.length;
    this.become("sending");
    try {
      while (this.entries.length) await this.sendOrSetAside(this.entries.slice(0, this.part));
      this.pauses.end();
      this.become("idle");
    } catch (error) {
      this.pauses.wait();
      this.become(error.state ?? "no-signal", error.state ? error.message : "");
    }
  }

  /** Send a part; where the server cannot digest it, find the one that it is, and go on. */
  async sendOrSetAside(part, tries = 1) {
    try {
      await this.sendPart(part);
      this.part = Math.min(MOST, this.part * 2);
    } catch (error) {
      if (!isIndigestible(error)) throw error;
      if (part.length > 1) this.part = Math.ceil(part.length / 2);
      else if (tries < TRIES) await this.sendOrSetAside(part, tries + 1);
      else await this.setAside(part[0], error);
    }
  }

  /** Set an entry aside, where the server takes a call without it. */
  async setAside(entry, error) {
    await sendEntries(this.sender, [], this.sender.left()); // throws where it takes none
    const held = this.keep.read(`outbox:${entry.key}`);
    this.keep.write(`aside:${entry.key}`, { ...held, why: error.message });
    this.keep.drop(`outbox:${entry.key}`);
    this.look();
    this.changed();
  }

  /** Put what was set aside back into the order that it had, and try again. */
  tryAgain(key) {
    const { why: _, ...held } = this.keep.read(`aside:${key}`);
    this.keep.write(`outbox:${key}`, held);
    this.keep.drop(`aside:${key}`);
    this.look();
    this.send();
    this.changed();
  }

  async sendPart(part) {
    const left = this.sender.left();
    const answer = await sendEntries(this.sender, part, { ...left, entries: left.entries - part.length });
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

const inOrder = (held) => [...held.values()].sort((a, b) => a.order - b.order);

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

/** Return the body, or throw what the server said; an answer that was cut off is no signal. */
export async function json(response) {
  if (response.status === 401 || response.redirected) {
    throw stopped("sign-in", "Sign in again to send what this tablet keeps.");
  }
  const body = await response.json().catch((error) => {
    if (response.ok) throw error;
    return null;
  });
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

// Sending photographs: after every entry, one part at a time, on from where it stopped.

import { tablet } from "../kept/tablet.js";
import { ACCEPT, json, post } from "../outbox.js";

const PART = 256 * 1024; // bytes; the server takes no more at once
const FIRST_PAUSE_MS = 2000;
const LONGEST_PAUSE_MS = 60000;
const LOOK_MS = 500; // while entries go before
const TRIES = 2; // of one that the server refuses, before it waits for somebody

export class PhotoQueue {
  constructor(photos) {
    this.photos = photos;
    this.sending = null; // the id of the photograph that is on its way
    this.busy = false;
    this.pause = FIRST_PAUSE_MS;
    this.timer = null;
    this.tries = new Map(); // id -> how often it was refused
  }

  begin() {
    addEventListener("online", () => this.send());
    document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && this.send());
    this.send();
  }

  /** What waits to be sent: finished, and not refused; originals last, each after its photograph. */
  get waiting() {
    const { photos } = this;
    const finished = photos.items.filter((one) => one.ready && !one.why && !photos.scaledOf(one));
    return [...finished.filter((one) => !one.original_of), ...finished.filter((one) => one.original_of)];
  }

  /** Send what waits; only one page of this round does. */
  async send() {
    if (this.busy || !this.waiting.length) return;
    this.busy = true;
    clearTimeout(this.timer);
    const name = `witnessmark-photos:${this.photos.person.id}:${this.photos.round}`;
    const wait = await (navigator.locks ? navigator.locks.request(name, () => this.sendNext()) : this.sendNext());
    this.busy = false;
    this.endSending();
    if (this.waiting.length) this.timer = setTimeout(() => this.send(), wait);
  }

  /** Nothing is on its way any more: the page says so, also where it did not arrive. */
  endSending() {
    if (!this.sending) return;
    this.sending = null;
    this.photos.changed();
  }

  /** Send one photograph, as far as no entry waits; return how long to pause. */
  async sendNext() {
    const [item] = this.waiting;
    if (!item) return 0;
    if (this.photos.store.outbox.entries.length) return LOOK_MS;
    try {
      this.sending = item.id;
      if (!(await this.sendParts(item))) return LOOK_MS;
      await this.photos.isOnRecord(item);
      this.pause = FIRST_PAUSE_MS;
      return 0;
    } catch (error) {
      return this.failed(item, error);
    }
  }

  /** Return whether it is whole; false where an entry came in between. */
  async sendParts(item) {
    const { store } = this.photos;
    let { received, complete } = await post(store.urls, store.urls.photos, this.announced(item));
    const bytes = complete ? null : await this.photos.bytes(item);
    while (!complete) {
      if (store.outbox.entries.length) return false;
      const part = bytes.slice(received, received + PART);
      ({ received, complete } = await sendPart(store.urls, item.id, received, part));
      item.sent = received;
      this.photos.changed();
    }
    return true;
  }

  announced({ id, card, point_id, deficiency_id, at, size, digest, name, note, marks, place = null, original_of = null }) {
    return {
      photo: id, card_id: card, point_id, deficiency_id, at, size, digest, name, note, marks, place, original_of,
      person: this.photos.person.id, tablet: tablet().id,
    };
  }

  /** What the server refuses is kept, shown with the reason, and holds nobody up. */
  async failed(item, error) {
    const refused = error.faults && error.status < 500 && error.status !== 429;
    if (refused) {
      const tries = (this.tries.get(item.id) ?? 0) + 1;
      this.tries.set(item.id, tries);
      if (tries >= TRIES) await this.setAside(item, error.message);
    }
    const { pause } = this;
    this.pause = Math.min(2 * pause, LONGEST_PAUSE_MS);
    return pause;
  }

  async setAside(item, why) {
    this.tries.delete(item.id);
    item.why = why;
    await this.photos.write(item).catch(() => {});
  }

  /** Somebody wants it tried once more. */
  async again(item) {
    item.why = "";
    this.pause = FIRST_PAUSE_MS;
    await this.photos.write(item).catch(() => {});
  }
}

/** Send one part; the answer says how much the server has. */
async function sendPart(urls, id, from, part) {
  const { token } = await json(await fetch(urls.csrf, { headers: ACCEPT }));
  const headers = { ...ACCEPT, "Content-Type": "application/octet-stream", "X-CSRFToken": token };
  return json(await fetch(`/field/photos/${id}?from=${from}`, { method: "POST", headers, body: part }));
}

// The photographs of a round on this tablet: sealed on its disk until they are on record.

import { getAll, put, remove } from "../kept/database.js";
import { openBytes, openText, sealBytes, sealText } from "../kept/vault.js";
import { newKey } from "../new_key.js";
import { PhotoQueue } from "./queue.js";

export class Photos {
  /** *changed()* is called whenever a photograph is kept, sent, refused or removed. */
  constructor(store, changed) {
    this.store = store;
    this.person = store.person ?? { id: store.doc.person.id, key: null };
    this.round = store.doc.round.id;
    this.changed = changed;
    this.items = [];
    this.fault = ""; // why the last one was not kept
    this.queue = new PhotoQueue(this);
    this.others = new BroadcastChannel(`witnessmark-photos:${this.person.id}:${this.round}`);
    this.others.onmessage = () => this.look();
    this.ready = this.look().then(() => this.queue.begin());
  }

  /** See what this tablet keeps; pictures stay on the disk until they are wanted. */
  async look() {
    const rows = await getAll("photos", IDBKeyRange.only([this.person.id, this.round]), "round").catch(() => []);
    const found = await Promise.all(rows.map((row) => this.opened(row)));
    const progress = new Map(this.items.map(({ id, sent }) => [id, sent]));
    for (const one of found) one.sent = Math.max(one.sent, progress.get(one.id) ?? 0);
    const none = !found.length && !this.items.length; // nothing is shown, so nothing is drawn
    this.items = found.sort((a, b) => (a.at < b.at ? -1 : 1));
    if (!none) this.changed();
  }

  async opened(row) {
    const said = await openText(this.person, `${row.id}/meta`, row.meta).then(JSON.parse, () => null);
    return { ...row, ...(said ?? { why: "This photograph cannot be opened here." }) };
  }

  /** What is on this tablet of a card. */
  of(cardId) {
    return this.items.filter(({ card }) => card === cardId);
  }

  /** All that is not on record. */
  get unsent() {
    return this.items;
  }

  /** Keep a picture at once; it is sent when it is said to be finished. */
  async add(cardId, { blob, name, about }) {
    const item = {
      id: newKey(), card: cardId, at: this.store.clock.stamp(), sent: 0, ready: false,
      name, note: "", marks: [], point_id: null, deficiency_id: null, why: "", ...about,
    };
    await this.keep(item, blob, null);
    return item;
  }

  /** Write a photograph; *base* is the picture without what was drawn, where that differs. */
  async keep(item, blob, base) {
    const bytes = await blob.arrayBuffer();
    item.size = bytes.byteLength;
    item.digest = await digestOf(bytes);
    item.image = await sealBytes(this.person, `${item.id}/image`, bytes);
    item.base = base && (await sealBytes(this.person, `${item.id}/base`, await base.arrayBuffer()));
    await this.write(item);
  }

  async write(item) {
    const { id, card, at, size, sent, ready, image, base = null } = item;
    const { name, note, marks, point_id, deficiency_id, digest, why } = item;
    const said = { card, at, name, note, marks, point_id, deficiency_id, digest, why }; // card and time too: a file that is carried off cannot move it
    const meta = await sealText(this.person, `${id}/meta`, JSON.stringify(said));
    try {
      await put("photos", { id, person: this.person.id, round: this.round, card, at, size, sent, ready, meta, image, base });
    } catch {
      throw new Error("There is no room on this tablet for the photograph: it is not kept. Send or remove others first.");
    }
    this.tell();
  }

  /** The picture as it is sent. */
  async picture(item) {
    return new Blob([await openBytes(this.person, `${item.id}/image`, item.image)], { type: "image/jpeg" });
  }

  /** The picture before anything was drawn into it. */
  async plain(item) {
    if (!item.base) return this.picture(item);
    return new Blob([await openBytes(this.person, `${item.id}/base`, item.base)], { type: "image/jpeg" });
  }

  async drop(item) {
    await remove("photos", item.id);
    this.tell();
  }

  /** It is on record: the card shows it among what is attached, and the tablet forgets it. */
  async isOnRecord(item) {
    const card = this.store.cards.get(item.card);
    const shown = { id: item.id, name: item.name, note: item.note, by: this.store.me, at: this.store.clock.stamp() };
    if (card && !(card.attachments ?? []).some(({ id }) => id === item.id)) {
      this.store.setCard({ ...card, attachments: [...(card.attachments ?? []), shown] });
    }
    await this.drop(item);
  }

  tell() {
    this.others.postMessage(null);
    return this.look().then(() => this.queue.send());
  }
}

/** SHA-256 in hexadecimal digits; null where the page is not served over HTTPS. */
async function digestOf(bytes) {
  if (!globalThis.crypto?.subtle) return null;
  const found = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(found, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

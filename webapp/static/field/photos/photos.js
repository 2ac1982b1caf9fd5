// The photographs of a round on this tablet: sealed on its disk until they are on record.

import { getAll, put, remove } from "../kept/database.js";
import { openBytes, openText, sealBytes, sealText } from "../kept/vault.js";
import { newKey } from "../new_key.js";
import { counted } from "../words.js";
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

  /** What is on this tablet of a card: an original stands with its photograph while that is here. */
  of(cardId) {
    return this.items.filter((one) => one.card === cardId && !this.scaledOf(one));
  }

  /** The photograph, still on this tablet, that this is the original of. */
  scaledOf({ original_of: of }) {
    return of ? this.items.find(({ id }) => id === of) : undefined;
  }

  originalOf({ id }) {
    return this.items.find(({ original_of: of }) => of === id);
  }

  /** All that is not on record. */
  get unsent() {
    return this.items;
  }

  /** Keep a picture at once; it is sent when it is said to be finished, its original last of all. */
  async add(cardId, { blob, name, place = null, original = null, why = "" }) {
    const item = { ...this.begun(cardId, name), found_place: place };
    await this.keep(item, blob, null);
    item.kept_words = why; // said once, where it is opened
    if (original) await this.addOriginal(item, original).catch((error) => (item.kept_words = error.message));
    return item;
  }

  begun(card, name) {
    return {
      id: newKey(), card, name, at: this.store.clock.stamp(), sent: 0, ready: false, original_of: null,
      note: "", marks: [], point_id: null, deficiency_id: null, place: null, found_place: null, why: "",
    };
  }

  /** The original lies in the browser's own file, so that no list of photographs loads it. */
  async addOriginal({ id, card, name, at }, blob) {
    const item = { ...this.begun(card, name.replace(/\.jpg$/, " original.jpg")), at, original_of: id, ready: true };
    await this.keep(item, blob, null);
  }

  /** Write a photograph; *base* is the picture without what was drawn, where that differs. */
  async keep(item, blob, base) {
    const bytes = await blob.arrayBuffer();
    item.size = bytes.byteLength;
    item.digest = await digestOf(bytes);
    item.image = await sealBytes(this.person, `${item.id}/image`, bytes);
    if (item.original_of) item.image = inFile(item.image);
    item.base = base && (await sealBytes(this.person, `${item.id}/base`, await base.arrayBuffer()));
    await this.write(item);
  }

  async write(item) {
    const { id, card, at, size, sent, ready, image, base = null, original_of = null } = item;
    const { name, note, marks, point_id, deficiency_id, digest, why, place = null, found_place = null } = item;
    const said = { card, at, name, note, marks, point_id, deficiency_id, digest, why, place, found_place }; // card and time too: a file that is carried off cannot move it
    const meta = await sealText(this.person, `${id}/meta`, JSON.stringify(said));
    try {
      await put("photos", { id, person: this.person.id, round: this.round, card, at, size, sent, ready, meta, image, base, original_of });
    } catch {
      throw new Error("There is no room on this tablet for the photograph: it is not kept. Send or remove others first.");
    }
    this.tell();
  }

  /** The bytes as they are sent. */
  async bytes({ id, image }) {
    return openBytes(this.person, `${id}/image`, await fromFile(image));
  }

  /** The picture as it is sent. */
  async picture(item) {
    return new Blob([await this.bytes(item)], { type: "image/jpeg" });
  }

  /** The picture before anything was drawn into it. */
  async plain(item) {
    if (!item.base) return this.picture(item);
    return new Blob([await openBytes(this.person, `${item.id}/base`, item.base)], { type: "image/jpeg" });
  }

  /** Remove a photograph for good, and its original with it. */
  async drop(item) {
    const both = [item, this.originalOf(item)].filter(Boolean);
    await remove("photos", ...both.map(({ id }) => id));
    this.tell();
  }

  /** It is on record: the card shows it among what is attached, and the tablet forgets it. */
  async isOnRecord(item) {
    const card = this.store.cards.get(item.card);
    const shown = { id: item.id, name: item.name, note: item.note, by: this.store.me, at: this.store.clock.stamp(), deficiency_id: item.deficiency_id };
    if (card && !(card.attachments ?? []).some(({ id }) => id === item.id)) {
      this.store.setCard({ ...card, attachments: [...(card.attachments ?? []), shown] });
    }
    await remove("photos", item.id);
    this.tell();
  }

  tell() {
    this.others.postMessage(null);
    return this.look().then(() => this.queue.send());
  }
}

/** A sealed picture with its bytes in a Blob, which a database gives out without loading it. */
const inFile = (sealed) => mapped(sealed, (value) => (value instanceof ArrayBuffer ? new Blob([value]) : value));

async function fromFile(sealed) {
  const pairs = Object.entries(sealed).map(async ([name, value]) => [name, value instanceof Blob ? await value.arrayBuffer() : value]);
  return Object.fromEntries(await Promise.all(pairs));
}

const mapped = (object, change) => Object.fromEntries(Object.entries(object).map(([name, value]) => [name, change(value)]));

/** "1 photograph, 1 original". */
export function photosWords(items) {
  const originals = items.filter(({ original_of: of }) => of).length;
  const others = items.length - originals;
  return [others && counted(others, "photograph"), originals && counted(originals, "original")].filter(Boolean).join(", ");
}

/** SHA-256 in hexadecimal digits; null where the page is not served over HTTPS. */
async function digestOf(bytes) {
  if (!globalThis.crypto?.subtle) return null;
  const found = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(found, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

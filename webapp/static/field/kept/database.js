// The tablet's one database. Every store is made here; every write waits for the disk.

const NAME = "witnessmark";
const VERSION = 1;
const PATIENCE_MS = 5000; // a page of another version may hold the database open
// Without "strict" a write may be lost with the power (measured: each strict write is synced).
const STRICT = { durability: "strict" };

let opening = null;
let held = null;
let made = false;

/** Open the database; rejects where the browser keeps none. */
export function open() {
  opening ??= opened().catch((error) => {
    opening = null;
    throw error;
  });
  return opening;
}

/** Whether the database was not there before this page opened it. */
export const isNew = () => made;

async function opened() {
  const patience = new Promise((_, reject) => setTimeout(() => reject(new Error("The database does not open.")), PATIENCE_MS));
  held = await Promise.race([requested(), patience]);
  held.onversionchange = () => held?.close();
  held.onclose = forget;
  return held;
}

function requested() {
  const request = indexedDB.open(NAME, VERSION);
  request.onupgradeneeded = () => {
    made = true;
    makeStores(request.result);
  };
  return answered(request);
}

function makeStores(database) {
  database.createObjectStore("people", { keyPath: "id" });
  database.createObjectStore("rounds", { keyPath: ["person", "round"] });
  database.createObjectStore("kept", { keyPath: ["person", "round", "name"] }).createIndex("person", "person");
  database.createObjectStore("photos", { keyPath: "id" }).createIndex("round", ["person", "round"]);
  database.createObjectStore("device", { keyPath: "name" });
}

/** The browser has closed it, or has cleared it away: the next call opens it anew. */
function forget() {
  held = null;
  opening = null;
}

/** Return one value; undefined where there is none. */
export async function get(store, key) {
  const transaction = (await open()).transaction(store);
  return answered(transaction.objectStore(store).get(key));
}

/** Return all values of a store, or those within a key range; *index* names one of its indexes. */
export async function getAll(store, range, index) {
  const from = (await open()).transaction(store).objectStore(store);
  return answered((index ? from.index(index) : from).getAll(range));
}

/** Return the keys of a store, without loading what stands under them. */
export async function getKeys(store) {
  return answered((await open()).transaction(store).objectStore(store).getAllKeys());
}

/** Put values; resolved once they are on the disk. */
export async function put(store, ...values) {
  await open();
  return change(values.map((value) => ({ store, put: value })));
}

/** Remove values by their keys; resolved once that is on the disk. */
export async function remove(store, ...keys) {
  await open();
  return change(keys.map((key) => ({ store, remove: key })));
}

/** Put values whose keys are free, in one transaction; what is there already stays. */
export async function putMissing(store, values) {
  const transaction = (await open()).transaction(store, "readwrite", STRICT);
  const into = transaction.objectStore(store);
  for (const value of values) {
    const there = into.getKey([].concat(into.keyPath).map((name) => value[name]));
    there.onsuccess = () => there.result === undefined && into.put(value);
  }
  return ended(transaction);
}

/**
 * Make changes in one transaction: [{store, put: value} or {store, remove: key}].
 *
 * Where the database is open already the writes are issued before this returns, so that
 * a page may call it as it is being left.
 */
export function change(changes) {
  if (!changes.length) return Promise.resolve();
  return held ? changed(held, changes) : open().then((database) => changed(database, changes));
}

async function changed(database, changes) {
  const stores = [...new Set(changes.map(({ store }) => store))];
  const transaction = database.transaction(stores, "readwrite", STRICT);
  for (const one of changes) apply(transaction.objectStore(one.store), one);
  transaction.commit?.();
  return ended(transaction);
}

function ended(transaction) {
  return new Promise((done, failed) => {
    transaction.oncomplete = () => done();
    transaction.onabort = () => failed(transaction.error ?? new Error("The tablet's storage gave up."));
  });
}

function apply(store, { put: value, remove: key }) {
  if (value !== undefined) store.put(value);
  else store.delete(key);
}

function answered(request) {
  return new Promise((done, failed) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
    request.onblocked = () => failed(new Error("Another page holds the database open."));
  });
}

/** The range of all keys that begin with these parts. */
export function beginningWith(...parts) {
  return IDBKeyRange.bound(parts, [...parts, []]);
}

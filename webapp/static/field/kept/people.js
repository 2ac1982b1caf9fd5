// Who of this tablet is open: whose key is in memory, and how it is opened again.

import { get, getAll, put } from "./database.js";
import { checkPassword, endSession, hello } from "./hello.js";
import { keepSetting, setting } from "./settings.js";
import { tablet } from "./tablet.js";
import { slowed, triedWrong, triedWell } from "./tries.js";
import { canSeal, fromBase64, keyOf, newKeyBytes, passwordKey, unwrap, wrap } from "./vault.js";
import { askWorker, plainName } from "./worker.js";

const AGAIN_MS = 15000; // the browser ends a worker that has been idle for 30 s

let current = null;
let timer = null;
let typed = null; // what the password gave that opened this page: the server's share may be new
let unheld = null; // a person's record that the disk has not taken yet
const pages = new BroadcastChannel("witnessmark-people");

/** Return the person who is open here {id, name, sign_in, role, key}, or null. */
export async function opened() {
  return (await opening()).person ?? null;
}

/**
 * Open without asking anybody: from the worker's memory, else with signal by the server.
 *
 * Returns {person}, or {state, message} as `hello` says it; "password" where only the
 * password can open what is kept. *asked*: `askOpenKey()`, where it was asked before.
 */
export async function opening(asked = askOpenKey()) {
  if (current) return { person: current };
  const known = setting("revoked") ? null : await asked;
  if (known?.person) return { person: await remember({ ...known.person, key: known.key }) };
  return fromServer();
}

/** Ask the worker for the key that is open. */
export const askOpenKey = () => askWorker({ type: "open-key:ask" });

async function fromServer() {
  if (setting("signed_out") && !(await finishSignOut())) return { state: "no-signal", message: "There is no signal." };
  const answer = await hello();
  noteRevoked(answer);
  if (answer.state !== "known") return answer;
  const first = await firstKey(answer.person);
  return inTurn(() => byShare(answer, first));
}

const firstKey = ({ sign_in }) => askWorker({ type: "first-key:take", sign_in: plainName(sign_in) });

/** The server has answered a hello behind an open page: a password typed since then wraps anew. */
export async function greeted(answer) {
  noteRevoked(answer);
  if (answer.state !== "known" || answer.person.id !== current?.id) return;
  const first = (await firstKey(answer.person)) ?? typed;
  typed = null;
  if (first) await inTurn(() => byShare(answer, first));
}

/** What the server said of this tablet counts without signal as well, until it says otherwise. */
function noteRevoked({ state, message }) {
  if (state === "revoked") keepSetting("revoked", message);
  else if (state === "known" && setting("revoked")) keepSetting("revoked", null);
}

/** Sign out at the server as it was done here without signal; false while there is none. */
async function finishSignOut() {
  if (!(await endSession())) return false;
  await keepSetting("signed_out", null);
  return true;
}

/**
 * Sign out: the key is forgotten here, in the worker and in the other pages at once; what
 * is unsent stays, sealed. False: no signal, and the server hears of it later; until then
 * only a password opens this tablet.
 */
export async function signOut() {
  await keepSetting("signed_out", current?.id ?? "somebody");
  await forgetOpen();
  return finishSignOut();
}

/** Only one page at a time makes a key. */
function inTurn(act) {
  return navigator.locks ? navigator.locks.request("witnessmark-people", act) : act();
}

/** *first*: the key of a password that the server has just taken, if there is one. */
async function byShare({ person, share }, first) {
  if (!canSeal()) return { person: await remembered(person, null, {}) };
  const record = (await get("people", person.id).catch(() => null)) ?? {};
  const shareKey = share && (await keyOf(fromBase64(share)));
  const bytes = await bytesOf(record, shareKey, first, person);
  if (!bytes) return { state: "password", message: `Only ${person.name}'s password opens what is kept here.`, who: person };
  return { person: await remembered(person, bytes, await wrapped(record, bytes, shareKey, first, person)) };
}

/** The key as it is, or a new one where nothing has been sealed under one yet. */
async function bytesOf(record, shareKey, first, person) {
  const found =
    (shareKey && (await unwrap(shareKey, shareId(person), record.by_server))) ??
    (first && (await unwrap(first.key, person.id, record.by_password)));
  if (found) return found;
  const sealed = record.by_server || record.by_password ? await getAll("kept", person.id, "person").catch(() => []) : [];
  return sealed.some((one) => one.sealed.plain === undefined) ? null : newKeyBytes();
}

/** Both wrappings of a key, made anew where they do not open it. */
async function wrapped(record, bytes, shareKey, first, person) {
  const opens = async (key, id, one) => String(await unwrap(key, id, one)) === String(bytes);
  let { salt = null, iterations = null, by_password = null, by_server = null } = record;
  if (shareKey && !(await opens(shareKey, shareId(person), by_server))) by_server = await wrap(shareKey, shareId(person), bytes);
  if (first && !(await opens(first.key, person.id, by_password))) {
    ({ salt, iterations } = first);
    by_password = await wrap(first.key, person.id, bytes);
  }
  return { salt, iterations, by_password, by_server, before: record.before ?? [] };
}

/**
 * Make a new key for the person who is signed in, where nothing opens the old one.
 *
 * What is sealed under the old one stays as it is, marked with its place in the person's
 * `before`: [{salt, iterations, by_password, by_server}]. Throws where there is no signal.
 */
export async function beginAnew() {
  const answer = await hello();
  if (answer.state !== "known") throw new Error(answer.message);
  const first = await firstKey(answer.person);
  const found = await inTurn(async () => {
    await putBehind(answer.person.id);
    return byShare(answer, first);
  });
  if (!found.person) throw new Error(found.message);
  return found.person;
}

async function putBehind(personId) {
  const { salt, iterations, by_password, by_server, before = [], ...person } = await get("people", personId);
  const kept = await getAll("kept", personId, "person");
  const photos = (await getAll("photos")).filter((row) => row.person === personId);
  const mark = (row) => ({ before: before.length, ...row });
  await put("kept", ...kept.filter(({ sealed }) => sealed.plain === undefined).map(mark));
  await put("photos", ...photos.filter(({ meta }) => meta.plain === undefined).map(mark));
  await put("people", { ...person, salt: null, iterations: null, by_password: null, by_server: null, before: [...before, { salt, iterations, by_password, by_server }] });
}

const shareId = (person) => `${tablet().id}/${person.id}`;

async function remembered({ id, name, sign_in, role, roles, organisation }, bytes, wraps) {
  const person = { id, name, sign_in, role, roles, organisation };
  const empty = { salt: null, iterations: null, by_password: null, by_server: null };
  await hold({ ...empty, ...wraps, ...person, opened_at: new Date().toISOString() });
  if (setting("signed_out") === id) await keepSetting("signed_out", null);
  return remember({ ...person, key: bytes && (await keyOf(bytes)) });
}

/** Without the wrapped key on the disk nothing sealed could be opened again: tried until it is. */
async function hold(record) {
  unheld = await put("people", record).then(() => null, () => record);
}

/** Hold a person's key in this page, and in the worker for the next page. */
async function remember({ key, ...person }) {
  current = { ...person, key };
  const say = () => {
    if (current?.id !== person.id) return null; // signed out meanwhile
    if (unheld) hold(unheld);
    return askWorker({ type: "open-key:remember", person, key });
  };
  clearInterval(timer);
  timer = setInterval(say, AGAIN_MS);
  navigator.serviceWorker?.ready.then(say); // there is none yet on a tablet's first page
  await say();
  return current;
}

/** Open by a typed password, without the server. Throws an Error with what to say. */
export async function openByPassword(personId, password) {
  const wait = slowed(personId);
  if (wait) throw new Error(`Too many wrong passwords: try again in ${wait} s.`);
  const record = await get("people", personId);
  if (!record?.by_password) throw new Error("No password has been given on this tablet yet: it opens with signal.");
  const given = await passwordKey(password, record.salt, record.iterations);
  const bytes = await unwrap(given.key, personId, record.by_password);
  if (!bytes) {
    triedWrong(personId);
    throw new Error(`This is not the password that ${record.name} last gave on this tablet.`);
  }
  triedWell(personId);
  typed = given;
  return remembered(record, bytes, record);
}

/** Whether no password of this person opens this tablet without signal yet. */
export async function lacksPassword(person) {
  if (!canSeal()) return false;
  const record = await get("people", person.id).catch(() => null);
  return !record?.by_password;
}

const FAULTS = {
  wrong: "This is not your password.",
  wait: "Too many wrong passwords: wait some minutes and try again.",
  "no-signal": "There is no signal: the server has to say whether it is your password.",
};

/** Let a password open this tablet without signal, once the server says that it is right. */
export async function givePassword(person, password) {
  const said = await checkPassword(person.sign_in, password);
  if (said !== "right") throw new Error(FAULTS[said]);
  const first = await passwordKey(password);
  const answer = await hello();
  if (answer.state !== "known") throw new Error(answer.message);
  await inTurn(() => byShare(answer, first));
}

/** What a person's password is to be salted with on this tablet; null where it is new here. */
export async function saltOf(signIn) {
  const people = await getAll("people").catch(() => []);
  const found = people.find((one) => isNamed(one, signIn));
  return found?.salt ? { salt: found.salt, iterations: found.iterations } : null;
}

/** The people of this tablet: [{id, name, sign_in, password}], the last one first. */
export async function peopleHere() {
  const found = await getAll("people").catch(() => []);
  found.sort((a, b) => (a.opened_at < b.opened_at ? 1 : -1));
  return found.map(({ id, name, sign_in, by_password }) => ({ id, name, sign_in, password: Boolean(by_password) }));
}

/** Forget the open key here, in the worker, and in every other page of this tablet. */
export function forgetOpen() {
  return forgetAllBut(null);
}

/** Somebody signs in on this tablet: the key of anybody else is forgotten. */
export async function makeWayFor(signIn) {
  const known = await askWorker({ type: "open-key:ask" });
  if (known && !isNamed(known.person, signIn)) await forgetAllBut(signIn);
}

async function forgetAllBut(signIn) {
  clearInterval(timer);
  current = null;
  pages.postMessage({ stays: signIn });
  await askWorker({ type: "open-key:forget" });
}

const isNamed = (person, signIn) => signIn !== null && plainName(person.sign_in) === plainName(signIn);

/** Tell *left()* that another page of this tablet has signed this person out. */
export function whenForgotten(left) {
  pages.onmessage = ({ data }) => {
    if (!current || isNamed(current, data.stays)) return;
    clearInterval(timer);
    current = null;
    left();
  };
}

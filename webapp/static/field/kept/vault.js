// Sealing: AES-GCM-256 under one key of a person on this tablet. WebCrypto alone.

const ITERATIONS = 600000; // of PBKDF2 with SHA-256, OWASP Password Storage Cheat Sheet
const KEY_BYTES = 32;
const AES = "AES-GCM";
const PIECE = 8192; // bytes

const utf8 = new TextEncoder();
const text = new TextDecoder();

/** Whether this page can seal: browsers give the means over HTTPS only. */
export const canSeal = () => Boolean(globalThis.crypto?.subtle);

/** Seal a text under the person's key; *id* has to be given again to open it. */
export async function sealText(person, id, words) {
  if (!person.key) return { plain: words };
  return sealBytes(person, id, utf8.encode(words));
}

export async function openText(person, id, sealed) {
  if (sealed.plain !== undefined) return sealed.plain;
  return text.decode(await openBytes(person, id, sealed));
}

/** Seal an ArrayBuffer; {plain: bytes} where nothing can be sealed. */
export async function sealBytes(person, id, bytes) {
  return person.key ? sealWith(person.key, id, bytes) : { plain: bytes };
}

export async function openBytes(person, id, sealed) {
  if (sealed.plain !== undefined) return sealed.plain;
  if (!person.key) throw new Error("This is sealed, and no key is open.");
  return openWith(person.key, id, sealed);
}

async function sealWith(key, id, bytes) {
  const iv = crypto.getRandomValues(new Uint8Array(12));
  const data = await crypto.subtle.encrypt({ name: AES, iv, additionalData: utf8.encode(id) }, key, bytes);
  return { iv, data };
}

/** Throws where the key is another, the id is another, or a bit was changed. */
function openWith(key, id, { iv, data }) {
  return crypto.subtle.decrypt({ name: AES, iv, additionalData: utf8.encode(id) }, key, data);
}

/** Return 32 random bytes that become a person's key. */
export const newKeyBytes = () => crypto.getRandomValues(new Uint8Array(KEY_BYTES));

/** Return bytes as a key that cannot be read out again. */
export function keyOf(bytes) {
  return crypto.subtle.importKey("raw", bytes, AES, false, ["encrypt", "decrypt"]);
}

/** Return {salt, iterations, key}: the key that a password gives. */
export async function passwordKey(password, salt = crypto.getRandomValues(new Uint8Array(16)), iterations = ITERATIONS) {
  const typed = await crypto.subtle.importKey("raw", utf8.encode(password.normalize("NFC")), "PBKDF2", false, ["deriveKey"]);
  const how = { name: "PBKDF2", hash: "SHA-256", salt, iterations };
  const key = await crypto.subtle.deriveKey(how, typed, { name: AES, length: 8 * KEY_BYTES }, false, ["encrypt", "decrypt"]);
  return { salt, iterations, key };
}

/** Wrap the bytes of a key under another key. */
export const wrap = (under, id, bytes) => sealWith(under, id, bytes);

/** Return the bytes of a wrapped key; null where *under* is not what wrapped it. */
export async function unwrap(under, id, wrapped) {
  if (!wrapped) return null;
  return openWith(under, id, wrapped).then((bytes) => new Uint8Array(bytes), () => null);
}

/** Return the bytes of base64url text. */
export function fromBase64(words) {
  const plain = atob(words.replaceAll("-", "+").replaceAll("_", "/"));
  return Uint8Array.from(plain, (letter) => letter.charCodeAt(0));
}

/** Return bytes as base64url text without padding. */
export function toBase64(bytes) {
  const all = new Uint8Array(bytes);
  let letters = ""; // in pieces: a photograph has more bytes than a call takes
  for (let at = 0; at < all.length; at += PIECE) letters += String.fromCharCode(...all.subarray(at, at + PIECE));
  return btoa(letters).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
}

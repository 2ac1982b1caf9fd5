/**
 * Whether a relay's settings as issued and as read back are one file to the byte.
 */

import { say } from "../words/catalogue.js";

const DIGEST = /^[0-9a-f]{64}$/; // SHA-256
const SAID = 12; // digits that people compare

/** Whether both digests are alike; nothing without both. */
export function sameFileWords({ reading }, note) {
  const [issued, read] = [note.issued, note.read].map((name) => digestOf(reading.conditions[name]));
  if (!issued || !read) return [];
  if (!DIGEST.test(issued) || !DIGEST.test(read)) return [say("same_file.unreadable")];
  const parts = { issued: issued.slice(0, SAID), read: read.slice(0, SAID) };
  return [say(issued === read ? "same_file" : "same_file.differ", parts)];
}

const digestOf = (text) => String(text ?? "").replace(/[ \t\r\n]/g, "").toLowerCase();

// What the server compares an entry with: nothing was changed on the way.

/** Return the SHA-256 of an entry's canonical JSON; null where the page has no HTTPS. */
export async function digestOf(entry) {
  if (!crypto.subtle) return null;
  const bytes = new TextEncoder().encode(JSON.stringify(sorted(entry)));
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** The same value with the members of every object in the order of their names. */
function sorted(value) {
  if (Array.isArray(value)) return value.map(sorted);
  if (value === null || typeof value !== "object") return value;
  const names = Object.keys(value).sort();
  return Object.fromEntries(names.map((name) => [name, sorted(value[name])]));
}

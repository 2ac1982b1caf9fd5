// How much room there is on this tablet, and whether the browser may clear it.

const PATIENCE_MS = 3000; // Firefox asks the person, and never answers where nobody does

/** Return {used, quota (bytes or null), persistent (true, false or null: unknown)}. */
export async function room() {
  const { usage = null, quota = null } = (await navigator.storage?.estimate?.().catch(() => ({}))) ?? {};
  const persistent = (await navigator.storage?.persisted?.().catch(() => null)) ?? null;
  return { used: usage, quota, persistent };
}

/** Ask that the browser clears nothing by itself; false where it refuses or does not answer. */
export async function askPersistent() {
  if (!navigator.storage?.persist) return false;
  const patience = new Promise((done) => setTimeout(() => done(false), PATIENCE_MS));
  return Promise.race([navigator.storage.persist().catch(() => false), patience]);
}

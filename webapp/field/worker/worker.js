// The service worker: it answers for the field application where there is no signal.
// PROGRAM (version, files with digests) stands before this text; see webapp/field/shell.py.

const CACHE = `witnessmark-${PROGRAM.version}`;
const OURS = /^witnessmark-[0-9a-f]{12}$/;
const FIELD_PAGE = /^\/(field\/tablet|field\/rounds\/[^/]+\/|a\/[^/]+)$/;
const OF_FIELD = /^\/(field\/tablet$|field\/rounds\/|a\/|static\/field\/)/; // its pages, and their workers
const HOME = new Set(["/", "/field/"]);
const PATIENCE_MS = 4000; // no answer by then: there is no signal worth the name

self.addEventListener("install", (event) => event.waitUntil(take(PROGRAM.first)));

self.addEventListener("activate", (event) => {
  event.waitUntil(dropOlder().then(() => self.clients.claim()));
  take(PROGRAM.later).catch(() => {}); // tried again when one of them is asked for
});

self.addEventListener("message", ({ data }) => {
  if (data?.type === "take-over") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== location.origin) return;
  if (request.mode === "navigate") {
    if (FIELD_PAGE.test(pathname)) event.respondWith(held(PROGRAM.page, request));
    else event.respondWith(navigated(request, pathname));
  } else if (pathname in PROGRAM.first || pathname in PROGRAM.later) {
    event.respondWith(fileFor(event, pathname));
  }
});

/**
 * A page of the field has the files of its own version; a page that the server has just
 * made has the server's, and this version's only where there is no signal.
 */
async function fileFor({ clientId, request }, pathname) {
  const client = clientId && (await self.clients.get(clientId));
  if (client && OF_FIELD.test(new URL(client.url).pathname)) return held(pathname, request);
  return fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) }).catch(() => held(pathname, request));
}

/** What this version holds under an address; fetched where it is not there yet. */
async function held(address, request) {
  const cache = await caches.open(CACHE);
  const found = await cache.match(address);
  if (found) return found;
  const answer = await fetch(address === PROGRAM.page ? address : request);
  if (answer.ok && !answer.redirected) cache.put(address, answer.clone());
  return answer;
}

/** Any other page: the server's, else what a tablet without signal has in its place. */
async function navigated(request, pathname) {
  try {
    return await fetch(request, HOME.has(pathname) ? { signal: AbortSignal.timeout(PATIENCE_MS) } : {});
  } catch {
    const page = await held(PROGRAM.page, request);
    return HOME.has(pathname) ? page : sentTo(`${PROGRAM.page}#/no-signal`);
  }
}

const sentTo = (address) => Response.redirect(new URL(address, location.origin).href, 302);

/** Fetch files into this version's cache; what an older version has unchanged is copied. */
async function take(files) {
  const cache = await caches.open(CACHE);
  await Promise.all(Object.entries(files).map(([address, digest]) => takeOne(cache, address, digest)));
}

async function takeOne(cache, address, digest) {
  if (await cache.match(address)) return;
  const older = await caches.match(address);
  const same = older && (await digestOf(older.clone())) === digest;
  const answer = same ? older : await fetch(address, { cache: "no-cache", credentials: "same-origin" });
  if (!answer.ok) throw new Error(`${address} answered ${answer.status}`);
  // The server was updated meanwhile: this version is not complete, and is not taken.
  if (!same && (await digestOf(answer.clone())) !== digest) throw new Error(`${address} is of another version`);
  await cache.put(address, answer);
}

async function digestOf(answer) {
  const bytes = new Uint8Array(await crypto.subtle.digest("SHA-256", await answer.arrayBuffer()));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

async function dropOlder() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => OURS.test(name) && name !== CACHE).map((name) => caches.delete(name)));
}

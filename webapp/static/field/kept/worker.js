// The pages' side of what the service worker remembers (worker_memory.js).

const PATIENCE_MS = 1000; // a worker that has to start first answers within some 100 ms

/** Tell the worker something and return its answer; null where there is no worker. */
export async function askWorker(message) {
  const worker = await activeWorker().catch(() => null);
  if (!worker) return null;
  const { port1, port2 } = new MessageChannel();
  const answer = new Promise((done) => {
    port1.onmessage = ({ data }) => done(data);
    setTimeout(() => done(null), PATIENCE_MS);
  });
  worker.postMessage(message, [port2]);
  return answer.finally(() => port1.close());
}

async function activeWorker() {
  if (!navigator.serviceWorker) return null;
  return navigator.serviceWorker.controller ?? (await navigator.serviceWorker.getRegistration("/"))?.active ?? null;
}

/** A sign-in name as the worker compares it: the server takes it in other letters as well. */
export const plainName = (signIn) => signIn.normalize("NFKC").trim().toLowerCase();

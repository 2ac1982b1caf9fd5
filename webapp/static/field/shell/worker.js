// The service worker of this tablet: registered once the page has what it needs.

const WORKER = "/field/worker.js";

/** Have the program held on this tablet; resolves to the registration, or null. */
export async function holdProgram() {
  if (!navigator.serviceWorker) return null; // no HTTPS, or a private window
  try {
    return await navigator.serviceWorker.register(WORKER, { scope: "/", updateViaCache: "none" });
  } catch {
    return null; // without signal the one that is held goes on
  }
}

/** Whether this tablet can open the program without signal. */
export async function isHeld() {
  const registration = await navigator.serviceWorker?.getRegistration("/");
  return Boolean(registration?.active);
}

/** What it means where there can be no worker; null else. */
export function withoutWorkerWords() {
  if (navigator.serviceWorker) return null;
  return (
    "This address has no HTTPS, so nothing can be opened without signal, and what is kept here is not sealed: " +
    "leave the page open, and do not load it again."
  );
}

// Leaving the round: without signal the next page could not be fetched, so one stays.

import { h } from "./dom.js";

const PATIENCE_MS = 4000; // no answer by then: there is no signal worth the name

/** Ask for the server before a link or *Sign out* leads away; *kept()* says what waits. */
export function guardLeaving(address, kept) {
  document.addEventListener("click", (event) => {
    const link = event.target.closest?.("a[href]");
    if (!link || event.defaultPrevented || !leadsAway(link, event) || opensHere(link)) return;
    event.preventDefault();
    leave(address, kept, link.textContent.trim(), () => location.assign(link.href));
  });
  document.addEventListener("submit", (event) => {
    if (event.defaultPrevented || event.target.method !== "post") return;
    event.preventDefault();
    const words = event.target.textContent.trim();
    leave(address, kept, words, () => event.target.submit());
  });
  addEventListener("hashchange", takeBack);
  addEventListener("online", takeBack);
}

function leadsAway(link, { button, ctrlKey, metaKey, shiftKey }) {
  const elsewhere = link.origin !== location.origin || link.pathname !== location.pathname;
  return elsewhere && !link.target && !button && !ctrlKey && !metaKey && !shiftKey;
}

/** Whether this tablet opens the page itself: the worker answers for field pages. */
function opensHere({ origin, pathname }) {
  if (!navigator.serviceWorker?.controller || origin !== location.origin) return false;
  return /^\/(field\/|a\/)/.test(pathname);
}

async function leave(address, kept, name, go) {
  takeBack();
  if (await reached(address)) go();
  else say(`No signal: ${name} needs the server, so this page stays open. ${kept()}`);
}

async function reached(address) {
  try {
    await fetch(address, { method: "HEAD", cache: "no-store", signal: AbortSignal.timeout(PATIENCE_MS) });
    return true;
  } catch {
    return false;
  }
}

function say(words) {
  const notice = h("div", { id: "no-way", class: "notice notice-fault", role: "alert" }, h("p", {}, words));
  document.getElementById("app").before(notice);
  notice.scrollIntoView({ block: "nearest" });
}

function takeBack() {
  document.getElementById("no-way")?.remove();
}

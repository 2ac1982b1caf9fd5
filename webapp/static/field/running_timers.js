// Timers that run on any card of the round, in the frame of every page.

import { h, replace } from "./dom.js";
import { callOut } from "./end_of_timer.js";
import { chosenBy } from "./choice.js";
import { spanWords } from "./safety_card/site_clock.js";

const TICK_MS = 1000;
const LONGEST_MS = 60 * 60 * 1000; // as the clock beside timed readings (stopwatch.js)

let ticking = null;
let shown = []; // [{node, timer}]

/** Return the timers: {key, card, words, endMs|null, sinceMs}. */
export function timersOf(store, here) {
  // Only a card whose dc was said to be off can have one: to ask all cards is dear.
  const dcOff = new Set(store.safety?.acts.filter(({ act }) => act === "dc_off").map(({ card }) => card));
  return store.doc.cards.flatMap((card) => [
    ...(dcOff.has(card.id) ? discharging(store, card) : []),
    ...(here?.id === card.id ? [] : clocks(store, card)),
  ]);
}

function discharging(store, card) {
  const { safety } = store;
  const found = safety.standing.card(card.id, safety.me.id, safety.moment(), chosenBy(store, card.id)).discharge;
  if (!found || Date.parse(found.over_at) < safety.now() - LONGEST_MS) return [];
  return [{ key: `discharge:${card.id}:${found.off_at}`, card, words: "Discharge", endMs: Date.parse(found.over_at) }];
}

/** The clocks beside timed readings that were left running. */
function clocks(store, card) {
  const rows = store.drafts[card.id]?.rows ?? {};
  return card.points.flatMap((point) => {
    const begun = rows[point.id]?.clock;
    if (!begun || Date.now() - begun > LONGEST_MS) return [];
    return [{ key: `clock:${point.id}`, card, words: `Clock at ${point.label}`, sinceMs: begun }];
  });
}

const over = new Set(); // what has ended already is called out once

/** Draw the timers under the bar that stops work. */
export function drawTimers(store, here) {
  const bar = document.getElementById("stop-bar");
  if (!bar) return;
  let node = document.getElementById("running-timers");
  if (!node) {
    node = h("div", { id: "running-timers", class: "running-timers", role: "region", "aria-label": "Timers that run" });
    bar.after(node);
  }
  const timers = timersOf(store, here);
  node.hidden = !timers.length;
  shown = timers.map((timer) => ({ timer, left: h("span", { class: "figures" }) }));
  replace(node, shown.map(({ timer, left }) => h("a", { class: "button", href: `#/cards/${timer.card.id}`, "data-focus": timer.key }, `${timer.words} · ${timer.card.apparatus.label} · `, left)));
  for (const { timer } of shown) if (timer.endMs && timer.endMs <= store.safety.now()) over.add(timer.key);
  show(store);
  clearInterval(ticking);
  ticking = timers.length ? setInterval(() => show(store), TICK_MS) : null;
}

function show(store) {
  for (const { timer, left } of shown) {
    const now = timer.endMs ? store.safety.now() : Date.now();
    left.textContent = timer.endMs ? leftWords(timer.endMs - now) : spanWords((now - timer.sinceMs) / 1000);
    if (!timer.endMs || timer.endMs > now || over.has(timer.key)) continue;
    over.add(timer.key);
    callOut();
  }
}

function leftWords(ms) {
  return ms > 0 ? `${spanWords(ms / 1000)} left` : "the set time is over";
}

// What goes on around the page that is shown: the screen, the timers, the neighbours.

import { listenNear } from "./near_cards.js";
import { drawTimers } from "./running_timers.js";
import { keepAwake } from "./screen_awake.js";

/** Run after each drawing; *card* is the one that is open, or null. */
export function aroundCard(store, card) {
  listenNear(store);
  keepAwake(Boolean(card));
  drawTimers(store, card);
}

// The server hears how much this tablet still holds of a round, where nothing is sent that says so.

import { tablet } from "../kept/tablet.js";
import { post } from "../outbox.js";

const TOGETHER_MS = 500; // what changes in one go is told once

/** Tell it soon; without signal the server hears of it with what is sent next. */
export function tellLeft(store) {
  clearTimeout(store.telling);
  store.telling = setTimeout(() => {
    post(store.urls, store.urls.told, { tablet: tablet().id, ...store.left() }).catch(() => {});
  }, TOGETHER_MS);
}

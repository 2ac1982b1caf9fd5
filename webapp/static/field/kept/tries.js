// Wrong passwords on the tablet slow down as they do on the server.

import { keepSetting, setting } from "./settings.js";

const FREE = 5;
const LONGEST_S = 300;
const FORGOTTEN_MS = 60 * 60 * 1000; // an hour without a try begins anew

const nameOf = (personId) => `tries:${personId}`;

function tries(personId) {
  const known = setting(nameOf(personId));
  return known && Date.now() - known.at < FORGOTTEN_MS ? known : { wrong: 0, at: 0 };
}

/** Return the seconds to wait before the next try; 0 for none. */
export function slowed(personId) {
  const { wrong, at } = tries(personId);
  if (wrong < FREE) return 0;
  const waitMs = 1000 * Math.min(2 ** (wrong - FREE + 1), LONGEST_S);
  return Math.max(0, Math.ceil((at + waitMs - Date.now()) / 1000));
}

export function triedWrong(personId) {
  keepSetting(nameOf(personId), { wrong: tries(personId).wrong + 1, at: Date.now() });
}

export function triedWell(personId) {
  keepSetting(nameOf(personId), { wrong: 0, at: 0 });
}

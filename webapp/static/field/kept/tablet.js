// Who this tablet is: one id, and a name that stands with each reading.

import { newKey } from "../new_key.js";
import { keepSetting, setting } from "./settings.js";

const BESIDE = "witnessmark-tablet"; // the same in local storage: one may be cleared without the other
const NAME_BEFORE = "witnessmark-device"; // where versions before kept the name

/** Return {id, label}; the same on every day. Needs `openSettings` before. */
export function tablet() {
  const known = setting("tablet") ?? beside() ?? made();
  if (!setting("tablet")) keepSetting("tablet", known);
  return known;
}

/** Return the name that stands with each reading. */
export const deviceName = () => tablet().label;

/** Write the id down in the second place as well. */
export function keepBeside() {
  try {
    localStorage.setItem(BESIDE, JSON.stringify(tablet()));
  } catch {
    // The first place has it.
  }
}

function beside() {
  try {
    return JSON.parse(localStorage.getItem(BESIDE));
  } catch {
    return null;
  }
}

function made() {
  const id = newKey();
  return { id, label: nameBefore() ?? `tablet ${id.slice(0, 4)}` };
}

function nameBefore() {
  try {
    return localStorage.getItem(NAME_BEFORE);
  } catch {
    return null;
  }
}

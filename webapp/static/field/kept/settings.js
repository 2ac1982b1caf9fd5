// Settings of the tablet: nobody's secret, so not sealed. Read at once, filled at the start.

import { getAll, put } from "./database.js";

const here = new Map();

/** Fill the memory; where the disk cannot be read, the page goes on with what it has. */
export async function openSettings() {
  const found = await getAll("device").catch(() => []);
  for (const { name, value } of found) if (!here.has(name)) here.set(name, value);
}

export const setting = (name, otherwise = null) => here.get(name) ?? otherwise;

/** Keep a setting; true once it is on the disk. */
export function keepSetting(name, value) {
  here.set(name, value);
  return put("device", { name, value }).then(() => true, () => false);
}

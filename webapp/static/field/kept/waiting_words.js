// What waits on a tablet, in words.

import { counted } from "../words.js";

/** "Mara Lind · 3 entries, 2 photographs · Site · Lineup · Round". */
export function waitingWords({ person_name, label, entries, photos, originals, intents }) {
  const parts = [
    entries && counted(entries, "entry", "entries"),
    photos && counted(photos, "photograph", "photographs"),
    originals && counted(originals, "original", "originals"),
    intents && counted(intents, "signature", "signatures"),
  ].filter(Boolean);
  const where = label ? ` · ${label.site} · ${label.lineup} · ${label.title}` : "";
  return `${person_name ?? "Somebody of before"} · ${parts.join(", ")}${where}`;
}

// Times and sizes as people say them.

const MINUTE_MS = 60 * 1000;
const HOUR_MS = 60 * MINUTE_MS;
const DAY_MS = 24 * HOUR_MS;

/** "12 min ago", "3 h ago", "2 days ago". */
export function ago(at) {
  const passedMs = Date.now() - Date.parse(at);
  if (passedMs < MINUTE_MS) return "just now";
  if (passedMs < HOUR_MS) return `${Math.floor(passedMs / MINUTE_MS)} min ago`;
  if (passedMs < 2 * DAY_MS) return `${Math.floor(passedMs / HOUR_MS)} h ago`;
  return `${Math.floor(passedMs / DAY_MS)} days ago`;
}

/** A time of this tablet, with its day. */
export const whenWords = (at) => new Date(at).toLocaleString("en-GB", { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" });

/** A size in bytes as people read it. */
export function sizeWords(bytes) {
  for (const [unit, least] of [["GB", 1e9], ["MB", 1e6], ["kB", 1e3]]) {
    if (bytes >= least) return `${Number((bytes / least).toPrecision(3))} ${unit}`;
  }
  return `${bytes} bytes`;
}

// Times as they are typed at the site: 09:12, of the day that is meant.

const DAY_MS = 24 * 60 * 60 * 1000;
const AHEAD_MS = 10 * 60 * 60 * 1000; // what was done or seen: at most so far ahead

/** Return the time of day at the site, as 09:12. */
export function clockAt(ms, zone) {
  return new Intl.DateTimeFormat("en-GB", { timeZone: zone, hour: "2-digit", minute: "2-digit" }).format(new Date(ms));
}

/**
 * Return the moment (RFC 3339) that a typed time of day means: the one within ten hours
 * ahead or fourteen behind; null where *typed* is no time.
 */
export function momentOf(typed, nowMs, zone, aheadMs = AHEAD_MS) {
  const found = /^(\d{1,2})[:. ]?(\d{2})$/.exec(typed.trim());
  if (!found || Number(found[1]) > 23 || Number(found[2]) > 59) return null;
  const [hour, minute] = clockAt(nowMs, zone).split(":").map(Number);
  const apart = (Number(found[1]) - hour) * 60 + Number(found[2]) - minute;
  const whole = nowMs - (nowMs % 60000) + apart * 60000;
  const days = Math.ceil((whole - nowMs - aheadMs) / DAY_MS);
  return new Date(whole - days * DAY_MS).toISOString();
}

/** Return the next moment that a typed time of day means: when something is going to end. */
export function endOf(typed, nowMs, zone) {
  return momentOf(typed, nowMs, zone, DAY_MS);
}

/** Return a span as 4:00 (minutes and seconds), or 1:04:00 from an hour on. */
export function spanWords(seconds) {
  const whole = Math.max(0, Math.ceil(seconds));
  const two = (number) => String(number).padStart(2, "0");
  const minutes = Math.floor(whole / 60);
  if (minutes < 60) return `${minutes}:${two(whole % 60)}`;
  return `${Math.floor(minutes / 60)}:${two(minutes % 60)}:${two(whole % 60)}`;
}

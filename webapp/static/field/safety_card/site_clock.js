// Times as they are typed at the site: 09:12, of the day that is meant.

const DAY_MS = 24 * 60 * 60 * 1000;
const AHEAD_MS = 10 * 60 * 60 * 1000; // a time further ahead than that was yesterday's

/** Return the time of day at the site, as 09:12. */
export function clockAt(ms, zone) {
  return new Intl.DateTimeFormat("en-GB", { timeZone: zone, hour: "2-digit", minute: "2-digit" }).format(new Date(ms));
}

/**
 * Return the moment (RFC 3339) that a typed time of day means: at most ten hours ahead
 * (the end of a shift) and else within the day behind; null where *typed* is no time.
 */
export function momentOf(typed, nowMs, zone) {
  const found = /^(\d{1,2})[:. ]?(\d{2})$/.exec(typed.trim());
  if (!found || Number(found[1]) > 23 || Number(found[2]) > 59) return null;
  const [hour, minute] = clockAt(nowMs, zone).split(":").map(Number);
  const apart = (Number(found[1]) - hour) * 60 + Number(found[2]) - minute;
  const whole = nowMs - (nowMs % 60000) + apart * 60000;
  return new Date(whole > nowMs + AHEAD_MS ? whole - DAY_MS : whole).toISOString();
}

/** Return a span as 4:00 (minutes and seconds), or 1:04:00 from an hour on. */
export function spanWords(seconds) {
  const whole = Math.max(0, Math.ceil(seconds));
  const two = (number) => String(number).padStart(2, "0");
  const minutes = Math.floor(whole / 60);
  if (minutes < 60) return `${minutes}:${two(whole % 60)}`;
  return `${Math.floor(minutes / 60)}:${two(minutes % 60)}:${two(whole % 60)}`;
}

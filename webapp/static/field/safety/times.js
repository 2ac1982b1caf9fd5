// Moments of acts: milliseconds inside, RFC 3339 at the edges.

export const SECOND = 1000;
export const MINUTE = 60 * SECOND;
export const HOUR = 60 * MINUTE;

export const milliseconds = (text) => Date.parse(text);

// Without an offset a text is no moment.
const MOMENT = /^\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d(\.\d+)?)?(Z|[+-]\d\d:\d\d)$/;

/** A moment that somebody noted, null for what is no moment in RFC 3339. */
export function millisecondsOrNull(value) {
  const ms = typeof value === "string" && MOMENT.test(value) ? milliseconds(value) : NaN;
  return Number.isNaN(ms) ? null : ms;
}

export const momentText = (ms) => new Date(ms).toISOString();

export const momentOrNull = (ms) => (ms === null ? null : momentText(ms));

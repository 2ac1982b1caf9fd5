// Moments of acts: milliseconds inside, RFC 3339 at the edges.

export const SECOND = 1000;
export const MINUTE = 60 * SECOND;
export const HOUR = 60 * MINUTE;

export const milliseconds = (text) => Date.parse(text);

export const momentText = (ms) => new Date(ms).toISOString();

export const momentOrNull = (ms) => (ms === null ? null : momentText(ms));

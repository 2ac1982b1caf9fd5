/**
 * How a withstand was judged, in words.
 */

import { say } from "./catalogue.js";
import { plain } from "./numbers.js";

const TEN_MINUTES = 600; // s: below it people speak of seconds

/** A time as people say it: 60 s, 30 min. */
export function heldFor(seconds) {
  return seconds >= TEN_MINUTES && seconds % 60 === 0 ? `${plain(seconds / 60)} min` : `${plain(seconds)} s`;
}

/** Whether the field level was reached, and not exceeded by much. */
export function levelWords({ reading }, { verdict, part }) {
  const wanted = say("level.wanted", { level: plain(part.level_kv) });
  const testKv = reading.conditions.test_kv ?? null;
  if (testKv === null) return say("level.unknown", { wanted });
  const parts = { voltage: plain(testKv), wanted };
  if (verdict === "marginal") parts.over = plain(part.over_pct);
  if (verdict === "outside") parts.rated = plain(part.rated_kv);
  return say(`level.${verdict}`, parts);
}

/** Whether the voltage was held for long enough. */
export function durationWords({ reading }, { verdict, part }) {
  const durationS = reading.conditions.duration_s ?? null;
  if (durationS === null) return say("duration.unknown");
  return say(`duration.${verdict}`, { held: heldFor(durationS), wanted: heldFor(part.hold_s) });
}

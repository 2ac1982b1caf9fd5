/**
 * How long one must wait until a leak rate can be told with the gauge in use.
 */

import { say } from "../words/catalogue.js";
import { figure, plain } from "../words/numbers.js";

const HOURS_A_DAY = 24;

/** For each of the note's rates; nothing without U of both readings. */
export function waitTimeWords({ values }, { of, rates }) {
  const told = values[of]?.told ?? null;
  if (told === null) return [];
  const said = rates.map((rate) =>
    say("wait_time.rate", { rate: plain(rate), days: figure(told / rate / HOURS_A_DAY) }),
  );
  return [say("wait_time", { rates: said.join("; ") })];
}

/**
 * A relay's pickup as it was measured, and the judgement that does not decide, in words.
 */

import { atLeast, verdictOf } from "../judge.js";
import { timesAt, unwidened } from "../relay_times.js";
import { figure, plain } from "./numbers.js";
import { say } from "./said.js";
import { settingWords } from "./timing.js";

const LARGEST_MULTIPLE = 1e6; // of pickup; nothing that is injected comes near it
const WORST_FIRST = ["outside", "marginal", "unjudged", "within"];

const measuredOf = ({ reading }) => reading.conditions.measured_pickup_a;

/** How far the pickup was found from its setting. */
export function measuredPickupWords(state, { part }) {
  const { pickup_a: set, pickup_error_pct: declared } = part;
  const measured = measuredOf(state);
  const off = 100 * (measured / set - 1);
  const side = atLeast(declared, Math.abs(off)) ? "inside" : "beyond";
  const beyond = declared ? `, ${side} the declared ± ${plain(declared)} %` : "";
  const sign = off < 0 ? "−" : "+";
  return (
    `Pickup measured ${plain(measured)} A, set ${plain(set)} A: ` +
    `${sign}${figure(Math.abs(off), 2)} %${beyond}.`
  );
}

/** Against the measured pickup where the setting decides, and the other way round. */
export function timedWords(state, step) {
  const { part } = step;
  if (part.against === "measured_pickup") {
    return besideWords(state, part, part.pickup_a, `the setting ${plain(part.pickup_a)} A`);
  }
  const measured = measuredOf(state) ?? null;
  if (!part.against || measured === null) return [];
  const fault = settingWords("The measured pickup", measured);
  if (fault) return fault;
  const name = `the measured pickup ${plain(measured)} A`;
  const beside = besideWords(state, unwidened(part), measured, name);
  return [measuredPickupWords(state, step), beside];
}

function besideWords(state, bound, pickup, name) {
  const multiple = state.reading.conditions.applied_a / pickup;
  const begun = `For information, against ${name} (${figure(multiple)} times)`;
  const timed = atLeast(multiple, bound.start_multiple) && multiple <= LARGEST_MULTIPLE;
  const times = timed ? timesAt(bound, multiple) : null;
  if (!times) return `${begun}: not a timing point.`;
  const { expected, low, high } = times;
  const latest = high === Infinity ? "no latest" : `to ${say(state, high)}`;
  return (
    `${begun}: ${say(state, expected)} expected, from ${say(state, low)} ${latest}: ` +
    `${weigh(state, times)}.`
  );
}

/** The verdict word of comparing with the earliest and the latest time. */
function weigh(state, { low: earliest, high: latest }) {
  if (!state.numeric) return latest === Infinity ? "unjudged" : "outside";
  const { least, most, exact } = state;
  const ends = [
    verdictOf(earliest <= 0 || atLeast(least, earliest), atLeast(most, earliest), exact),
    verdictOf(atLeast(latest, most), atLeast(latest, least), exact),
  ];
  return WORST_FIRST.find((word) => ends.includes(word));
}

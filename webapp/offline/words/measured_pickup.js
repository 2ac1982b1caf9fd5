/**
 * A relay's pickup as it was measured, and the judgement that does not decide, in words.
 */

import { atLeast, verdictOf } from "../judge.js";
import { timesAt, unwidened } from "../relay_times.js";
import { say } from "./catalogue.js";
import { figure, plain } from "./numbers.js";
import { shown } from "./shown.js";
import { settingWords } from "./timing.js";

const LARGEST_MULTIPLE = 1e6; // of pickup; nothing that is injected comes near it
const WORST_FIRST = ["outside", "marginal", "unjudged", "within"];

const measuredOf = ({ reading }) => reading.conditions.measured_pickup_a;

/** How far the pickup was found from its setting. */
export function measuredPickupWords(state, { part }) {
  const { pickup_a: set, pickup_error_pct: declared } = part;
  const measured = measuredOf(state);
  const off = 100 * (measured / set - 1);
  const parts = {
    measured: plain(measured),
    set: plain(set),
    off: `${off < 0 ? "−" : "+"}${figure(Math.abs(off), 2)}`,
  };
  if (!declared) return say("measured_pickup", parts);
  const side = atLeast(declared, Math.abs(off)) ? "inside" : "beyond";
  return say(`measured_pickup.${side}`, { ...parts, declared: plain(declared) });
}

/** Against the measured pickup where the setting decides, and the other way round. */
export function timedWords(state, step) {
  const { part } = step;
  if ("pickup_v" in part) return [];
  if (part.against === "measured_pickup") {
    const against = say("timed.setting", { pickup: plain(part.pickup_a) });
    return besideWords(state, part, part.pickup_a, against);
  }
  const measured = measuredOf(state) ?? null;
  if (!part.against || measured === null) return [];
  const fault = settingWords("measured_pickup_a", measured);
  if (fault) return fault;
  const against = say("timed.measured", { pickup: plain(measured) });
  const beside = besideWords(state, unwidened(part), measured, against);
  return [measuredPickupWords(state, step), beside];
}

function besideWords(state, bound, pickup, against) {
  const multiple = state.reading.conditions.applied_a / pickup;
  const begun = { against, multiple: figure(multiple) };
  const timed = atLeast(multiple, bound.start_multiple) && multiple <= LARGEST_MULTIPLE;
  const times = timed ? timesAt(bound, multiple) : null;
  if (!times) return say("timed.no_point", begun);
  const parts = {
    ...begun,
    expected: shown(state, times.expected),
    low: shown(state, times.low),
    verdict: say(`verdict.${weigh(state, times)}`),
  };
  if (times.high === Infinity) return say("timed.no_latest", parts);
  return say("timed", { ...parts, high: shown(state, times.high) });
}

/** The verdict of comparing with the earliest and the latest time. */
function weigh(state, { low: earliest, high: latest }) {
  if (!state.numeric) return latest === Infinity ? "unjudged" : "outside";
  const { least, most, exact } = state;
  const ends = [
    verdictOf(earliest <= 0 || atLeast(least, earliest), atLeast(most, earliest), exact),
    verdictOf(atLeast(latest, most), atLeast(latest, least), exact),
  ];
  return WORST_FIRST.find((word) => ends.includes(word));
}

// What is expected of a point before anything was read there, in words.

import { appliedTo, figure, plain, reach, saidUnit, scaleFor, settingOf, timesAt, unwidened } from "/offline/reader.js";
import { atRelayWords } from "./both_bases.js";

/** The time by the curve and its band at what is applied; without it the setting alone. */
export function timeWanted(bound, conditions) {
  const measured = bound.against === "measured_pickup" && conditions.measured_pickup_a;
  const used = measured ? unwidened(bound) : bound;
  const set = bound[settingOf(bound)];
  const unit = appliedTo(bound) === "applied_v" ? "V" : "A";
  const said = `${bound.curve.label}, pickup ${plain(set)} ${unit}, dial ${plain(bound.time_dial)}`;
  const multiple = reach(used, conditions[appliedTo(bound)] / (measured || set));
  if (!Number.isFinite(multiple)) return said;
  if (multiple <= 1) return `must not operate; ${said}`;
  const held = multiple < bound.start_multiple ? null : timesAt(used, multiple);
  if (!held) return `no timing point; ${said}`;
  const last = held.high === Infinity ? "no latest" : `to ${figure(held.high)}`;
  return `${figure(held.expected)} s expected, from ${figure(held.low)} ${last} s${errorsSaid(held, bound)}`;
}

/** Where the band is wider than the tolerance of the relay alone: by what. */
function errorsSaid({ band, pct }, bound) {
  const said = [];
  if (band) said.push(`assigned error ${plain(bound.tolerance_pct)} % × ${plain(band.times)} = ${plain(pct)} %`);
  if (bound.pickup_error_pct) said.push(`pickup ± ${plain(bound.pickup_error_pct)} %`);
  if (bound.current_error_pct) said.push(`current ± ${plain(bound.current_error_pct)} %`);
  return said.length ? ` (${said.join(", ")})` : "";
}

/** A value with how far one may be from it; what it hangs on may not be known yet. */
export function nearWanted({ expected, pct = 0, fixed = 0, below = true, above = true, of, unit }, rule, conditions, base, reference) {
  const value = expectedAt(expected, conditions);
  if (value === null || (of && of !== "reading" && !unit)) return "";
  const within = Math.max((pct / 100) * Math.abs(value), fixed);
  const { words: name, over } = scaleFor(value, unit ?? base);
  const [said, least, most] = [value, value - within, value + within].map((one) => figure(one / over));
  if (!below) return `at most ${most}${name}`;
  if (!above) return `at least ${least}${name}`;
  if (!within) return `${said}${name} expected`;
  return `${said}${name} expected${reference}, from ${least} to ${most}${atRelayWords(rule, value - within, value + within)}`;
}

/** An angle with how far one may turn from it, either way. */
export function angleWanted({ expected, within_deg: within }, rule, conditions) {
  const value = expectedAt(expected, conditions);
  return value === null ? "" : `${figure(value)} ${saidUnit("deg")} expected, ± ${plain(within)} ${saidUnit("deg")}`;
}

function expectedAt(expected, conditions) {
  if (typeof expected === "number") return expected;
  const { on, times = 1, plus = 0, points } = expected;
  const at = conditions[on];
  if (typeof at !== "number" || points) return null;
  return at * times + plus;
}

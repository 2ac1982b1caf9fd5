/**
 * How probable it is that a limit is met (JCGM 106:2012, clause 7).
 */

import { join, say } from "../words/catalogue.js";
import { figure, plain, scaleFor, tenths } from "../words/numbers.js";
import { erfc } from "./erfc.js";

const COVERAGE = 2; // k
const NEAR = 1e-9; // of the value: a smaller u is no question of probability
const NEARLY = 0.999; // beyond that, and below its complement, digits say too much

// Codes of the steps that compare with a limit from below, and from above.
const LOW = ["minimum", "earliest", "least"];
const HIGH = ["maximum", "latest", "most"];

const ofReading = ({ part }) => !part?.of;

/** That the true value lies from `low` to `high`: normal about the value with u. */
export function normal(value, u, low, high) {
  const above = high === null ? 0 : beyond((high - value) / u);
  const below = low === null ? 0 : beyond((value - low) / u);
  return Math.max(0, 1 - above - below);
}

/** The same where it lies evenly within `a` of the value. */
export function rectangular(value, a, low, high) {
  const [bottom, top] = [value - a, value + a];
  const first = low === null ? bottom : Math.max(low, bottom);
  const last = high === null ? top : Math.min(high, top);
  if (first === bottom && last === top) return 1;
  return Math.max(0, (last - first) / (2 * a));
}

/** The share of a normal distribution that lies above z. */
const beyond = (z) => 0.5 * erfc(z / Math.sqrt(2));

/** The probability with its steps; nothing without U, or where no limit was compared. */
export function conformityWords(state) {
  const { exact, expanded, corrected: shown } = state;
  const limits = [guardedLow(state), guardedHigh(state)];
  const given = limits.filter(Boolean);
  if (!exact || !expanded || given.length === 0) return [];
  const u = expanded / COVERAGE;
  if (u <= NEAR * Math.max(Math.abs(shown), ...given.map(({ limit }) => Math.abs(limit)))) return [];
  const a = u * Math.sqrt(3);
  const ends = limits.map((one) => one?.limit ?? null);
  const { words: unit, over } = scaleFor(shown, state.base);
  return [
    say(given.length === 1 ? "conformity.one" : "conformity.both", {
      limits: join("list.and", given.map(({ name }) => say(`limit.${name}`))),
      u: `${figure(u / over)}${unit}`,
      inside: inside(shown, u, over, given),
      normal: percent(normal(shown, u, ...ends)),
      value: figure(shown / over),
      a: `${figure(a / over)}${unit}`,
      rectangular: share(rectangular(shown, a, ...ends)),
    }),
  ];
}

/** The highest minimum that was compared; none of nothing, which is always met. */
function guardedLow({ steps, rule }) {
  const found = steps.filter(
    (step) => LOW.includes(step.code) && ofReading(step) && Number.isFinite(step.low) && (rule.signed || step.low > 0),
  );
  return tightest(found.map(({ code, low }) => ({ name: code, limit: low, sign: 1 })));
}

function guardedHigh({ steps }) {
  const found = steps.filter((step) => HIGH.includes(step.code) && ofReading(step) && Number.isFinite(step.high));
  return tightest(found.map(({ code, high }) => ({ name: code, limit: high, sign: -1 })));
}

function tightest(limits) {
  return limits.reduce(
    (best, one) => (best && one.sign * (one.limit - best.limit) <= 0 ? best : one),
    null,
  );
}

/** How far inside each limit the value lies, in u, and what is added up. */
function inside(shown, u, over, limits) {
  const x = figure(shown / over);
  const terms = limits.map(({ limit, sign }) => {
    const end = figure(limit / over);
    const z = figure((sign * (shown - limit)) / u, 3);
    const gap = sign > 0 ? `${x} − ${end}` : `${end} − ${x}`;
    return { z, words: `(${gap}) / ${figure(u / over)} = ${z}` };
  });
  const sum = terms.map(({ z }) => `Φ(${z})`).join(" + ");
  const both = terms.length > 1 ? " − 1" : "";
  return `${terms.map(({ words }) => words).join(", ")}, ${sum}${both}`;
}

function percent(probability) {
  if (probability > NEARLY) return say("percent.more", { percent: tenths(100 * NEARLY) });
  if (probability < 1 - NEARLY) {
    return say("percent.less", { percent: tenths(100 * (1 - NEARLY)) });
  }
  return say("percent", { percent: tenths(100 * probability) });
}

function share(part) {
  return part === 0 || part === 1 ? say("percent", { percent: plain(100 * part) }) : percent(part);
}

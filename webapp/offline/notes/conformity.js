/**
 * How probable it is that a limit is met (JCGM 106:2012, clause 7).
 */

import { figure, plain, scaleFor, tenths } from "../words/numbers.js";
import { erfc } from "./erfc.js";

const COVERAGE = 2; // k
const NEAR = 1e-9; // of the value: a smaller u is no question of probability
const NEARLY = 0.999; // beyond that, and below its complement, digits say too much

const NAMES = {
  minimum: "the minimum",
  maximum: "the maximum",
  earliest: "the earliest",
  latest: "the latest",
};

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
  if (u <= NEAR * Math.max(shown, ...given.map(({ limit }) => limit))) return [];
  const a = u * Math.sqrt(3);
  const ends = limits.map((one) => one?.limit ?? null);
  const { words: unit, over } = scaleFor(shown, state.rule.unit ?? "");
  const p = percent(normal(shown, u, ...ends));
  const q = share(rectangular(shown, a, ...ends));
  return [
    `Probability that ${names(given)} met (JCGM 106:2012, clause 7): u = U / 2 = ` +
      `${figure(u / over)}${unit}, ${inside(shown, u, over, given)}: ${p} if normal; ` +
      `of ${figure(shown / over)} ± ${figure(a / over)}${unit} (u × √3) ${q} if rectangular.`,
  ];
}

/** The highest minimum that was compared; none of nothing, which is always met. */
function guardedLow({ steps }) {
  const found = steps.filter(
    ({ code, low }) => ["minimum", "earliest"].includes(code) && low > 0,
  );
  return tightest(found.map(({ code, low }) => ({ name: NAMES[code], limit: low, sign: 1 })));
}

function guardedHigh({ steps }) {
  const found = steps.filter(({ code }) => ["maximum", "latest"].includes(code));
  return tightest(found.map(({ code, high }) => ({ name: NAMES[code], limit: high, sign: -1 })));
}

function tightest(limits) {
  return limits.reduce(
    (best, one) => (best && one.sign * (one.limit - best.limit) <= 0 ? best : one),
    null,
  );
}

function names(limits) {
  const said = limits.map(({ name }) => name).join(" and ");
  return `${said} ${limits.length === 1 ? "is" : "are"}`;
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
  if (probability > NEARLY) return `more than ${tenths(100 * NEARLY)} %`;
  if (probability < 1 - NEARLY) return `less than ${tenths(100 * (1 - NEARLY))} %`;
  return `${tenths(100 * probability)} %`;
}

function share(part) {
  return part === 0 || part === 1 ? `${plain(100 * part)} %` : percent(part);
}

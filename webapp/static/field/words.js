// Words, times and marks that all views share.

import { OUTCOMES as OUTCOME_NAMES, outcomeWords } from "/offline/reader.js";
import { h, s } from "./dom.js";

// In the order of every list: the record, the desk pages and the package.
export const VERDICTS = ["within", "marginal", "outside", "unjudged"];
export const CARD_STATES = {
  not_begun: "not begun",
  begun: "begun",
  signed: "signed",
  signing: "not signed by all",
  returned: "handed back to you",
  withdrawn: "withdrawn",
};
export const OUTCOMES = Object.fromEntries(
  OUTCOME_NAMES.map((name) => [name, capital(outcomeWords(name))]),
);
export const SEVERITIES = {
  stops_turnover: "stops turnover",
  may_follow: "may follow turnover",
};

const SHAPES = {
  within: () => s("circle", { cx: 10, cy: 10, r: 7 }),
  marginal: () => [
    s("circle", { cx: 10, cy: 10, r: 6.8, fill: "none", "stroke-width": 2 }),
    s("path", { d: "M10 3.2a6.8 6.8 0 0 1 0 13.6z", stroke: "none" }),
  ],
  outside: () => s("path", { d: "M10 2.5 18 17H2z" }),
  unjudged: () =>
    s("circle", { cx: 10, cy: 10, r: 7, "stroke-width": 2.2, "stroke-dasharray": "3 2.5" }),
  done: () => s("path", { d: "M3 11l4.5 5L17 4.5", "stroke-width": 3 }),
  memory: () => s("path", { d: "M10 2 18 10 10 18 2 10z" }),
  open: () => s("rect", { x: 3, y: 3, width: 14, height: 14, "stroke-width": 2.6 }),
};

/** Return the shape that goes with a word. */
export function mark(kind) {
  const shape = SHAPES[kind] ?? SHAPES.open;
  return s(
    "svg",
    { class: `mark mark-${kind}`, viewBox: "0 0 20 20", "aria-hidden": "true" },
    shape(),
  );
}

/** Return a verdict: word, shape and colour together. */
export function verdict(word, count) {
  return h(
    "span",
    { class: `verdict verdict-${word}` },
    mark(word),
    count === undefined ? word : `${count} ${word}`,
  );
}

/** Whether a figure behind the verdict is from memory; what is said beside it decides nothing. */
export function restsOnMemory({ cite }) {
  return cite.some(({ provenance, beside }) => provenance === "memory" && !beside);
}

/** Return the mark of what rests on memory: shape and words together. */
export function recalled() {
  return h("span", { class: "recalled" }, mark("memory"), "from memory");
}

/** Return words as they begin a sentence. */
export function capital(words) {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Return how many things there are, in words. */
export function counted(number, one, many = `${one}s`) {
  return `${number} ${number === 1 ? one : many}`;
}

const formats = new Map();

function format(zone, options) {
  const key = zone + JSON.stringify(options);
  if (!formats.has(key)) {
    formats.set(key, new Intl.DateTimeFormat("en-GB", { timeZone: zone, ...options }));
  }
  return formats.get(key);
}

/** Return the day at the site, as 2026-11-25. */
export function siteDay(at, zone) {
  const parts = format(zone, { year: "numeric", month: "2-digit", day: "2-digit" });
  const found = Object.fromEntries(
    parts.formatToParts(new Date(at)).map((part) => [part.type, part.value]),
  );
  return `${found.year}-${found.month}-${found.day}`;
}

/** Return a time at the site for people: "07:42 today" or "25 Nov 2026 07:42". */
export function siteTime(at, zone) {
  const clock = format(zone, { hour: "2-digit", minute: "2-digit" }).format(new Date(at));
  if (siteDay(at, zone) === siteDay(Date.now(), zone)) return `${clock} today`;
  return `${dayWords(siteDay(at, zone))} ${clock}`;
}

/** Return a day such as 2027-03-03 as "3 Mar 2027". */
export function dayWords(day) {
  const [year, month, date] = day.split("-").map(Number);
  const names = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ");
  return `${date} ${names[month - 1]} ${year}`;
}

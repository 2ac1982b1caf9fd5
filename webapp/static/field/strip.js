// The limit strip: a short number line with the limit, the reading and its U.

import { baseOf, figure, heldFor, nameOf, outcomeWords, parseValue, saidUnit, scaleFor, unitOf } from "/offline/reader.js";
import { s } from "./dom.js";
import { ends } from "./ends.js";
import { angleWanted, nearWanted, timeWanted } from "./expected_words.js";
import { shownAmount } from "./shown_amount.js";

const WIDTH = 300;
const HEIGHT = 42;
const SIDE = 12;
const LINE_Y = 24;
const ARROW = 17;
const LOGARITHMIC = ["MOhm", "Pa"];
const SHARED_UP_TO = 4; // spans: beyond it the strips of a card would be too fine to read
const STEPS = [1, 2, 5, 10];

/**
 * Return the drawing, or null where there is no number or no limit to draw.
 *
 * *among*: the judgements of the same card, whose strips share one scale where it can
 * be read.
 */
export function limitStrip(judgement, text = "", among = []) {
  const seen = read(judgement, text);
  if (!seen || !seen.limits.length) return null;
  const others = among.map((one) => read(one, "")).filter(Boolean);
  const scale = scaleOf(seen, others);
  if (!scale) return null;
  return s(
    "svg",
    {
      class: "drawing limit-strip",
      viewBox: `0 0 ${WIDTH} ${HEIGHT}`,
      role: "img",
      "aria-label": words(seen),
    },
    permitted(seen, scale),
    ticks(seen, scale),
    limits(seen, scale),
    marked(seen, scale),
  );
}

function read(judgement, text) {
  const { corrected } = judgement;
  const unit = unitOf(judgement);
  if (corrected === null || corrected === undefined || !unit) return null;
  const typed = text ? parseValue(text) : {};
  return {
    value: corrected,
    low: judgement.limit_low,
    high: judgement.limit_high,
    u: judgement.uncertainty ?? 0,
    unit,
    verdict: judgement.verdict,
    over: typed.high === Infinity,
    under: typed.low === -Infinity,
    limits: [judgement.limit_low, judgement.limit_high].filter((v) => v !== null),
  };
}

function scaleOf(seen, others) {
  const own = span(seen);
  return own && new Scale(...shared(own, seen, others), LOGARITHMIC.includes(seen.unit));
}

/** The ends that hold the others of the same unit too, or else *own*. */
function shared(own, seen, others) {
  const like = others.filter((one) => one.unit === seen.unit && one.limits.length);
  const spans = [own, ...like.map(span).filter(Boolean)];
  const low = Math.min(...spans.map(([from]) => from));
  const high = Math.max(...spans.map(([, to]) => to));
  const narrowest = Math.min(...spans.map(([from, to]) => to - from));
  const fits = LOGARITHMIC.includes(seen.unit) || high - low <= SHARED_UP_TO * narrowest;
  return fits ? [low, high] : own;
}

/** The ends of a scale for this reading alone. */
function span(seen) {
  const values = [seen.value, ...seen.limits];
  let low = Math.min(...values);
  let high = Math.max(...values);
  if (LOGARITHMIC.includes(seen.unit)) return low > 0 ? [low / 6, high * 6] : null;
  low = Math.min(low, seen.value - seen.u);
  high = Math.max(high, seen.value + seen.u);
  if (seen.limits.length < 2) low = Math.min(0, low);
  const room = (high - low) * 0.22 || Math.abs(high) * 0.1 || 1;
  return [low < 0 ? low - room : Math.max(0, low - (low > 0 ? room : 0)), high + room];
}

class Scale {
  constructor(low, high, logarithmic) {
    Object.assign(this, ends(low, high, logarithmic), { logarithmic, start: SIDE, end: WIDTH - SIDE });
  }

  place(value) {
    const at = Math.min(Math.max(value, this.low), this.high);
    const share = this.logarithmic
      ? Math.log(at / this.low) / Math.log(this.high / this.low)
      : (at - this.low) / (this.high - this.low);
    return this.start + share * (this.end - this.start);
  }

  ticks(over) {
    return this.logarithmic ? this.decades(over) : this.steps(over);
  }

  steps(over) {
    const rough = (this.high - this.low) / over / 3;
    const power = 10 ** Math.floor(Math.log10(rough));
    const step = STEPS.find((n) => n * power >= rough * (1 - 1e-9)) * power;
    const first = Math.ceil(this.low / over / step - 1e-9);
    const last = Math.floor(this.high / over / step + 1e-9);
    const found = [];
    for (let n = first; n <= last; n += 1) found.push(n * step);
    return found;
  }

  decades(over) {
    const from = Math.ceil(Math.log10(this.low / over));
    const to = Math.floor(Math.log10(this.high / over));
    const every = Math.max(1, Math.ceil((to - from + 1) / 3));
    const found = [];
    for (let e = from; e <= to; e += 1) if (e % every === 0) found.push(10 ** e);
    return found;
  }
}

function short(value) {
  const said = figure(value);
  if (!said.includes(".") || said.includes("e")) return said;
  return said.replace(/0+$/, "").replace(/\.$/, "");
}

function shortAmount(value, unit) {
  const { words: unitWords, over } = scaleFor(value, unit);
  return short(value / over) + unitWords;
}

function permitted(seen, scale) {
  const from = seen.low === null ? scale.start : scale.place(seen.low);
  const to = seen.high === null ? scale.end : scale.place(seen.high);
  return [
    s("rect", {
      class: "d-permitted",
      x: from,
      y: LINE_Y - 5,
      width: Math.max(0, to - from),
      height: 10,
    }),
    line(scale.start, LINE_Y, scale.end, LINE_Y, "scale"),
  ];
}

function ticks(seen, scale) {
  const { words: unitWords, over } = scaleFor(seen.limits[0], seen.unit);
  const values = scale.ticks(over);
  const said = seen.limits.map((limit) => scale.place(limit));
  let free = 0;
  return values.map((value, index) => {
    const x = scale.place(value * over);
    const words = short(Number(value.toPrecision(12)));
    const label = index === values.length - 1 ? words + unitWords : words;
    const half = label.length * 3.4;
    const fits = said.every((at) => Math.abs(at - x) >= 1) && x - half >= free && x + half <= WIDTH;
    if (fits) free = x + half + 3;
    return [
      line(x, LINE_Y - 3, x, LINE_Y + 3, "tick"),
      fits && text(x, LINE_Y + 16, label, "figure", "middle"),
    ];
  });
}

function limits(seen, scale) {
  const two = seen.limits.length === 2;
  return [seen.low, seen.high].map((limit, index) => {
    if (limit === null) return null;
    const x = scale.place(limit);
    const said = shortAmount(limit, seen.unit);
    const wide = said.length * 6.9;
    const wanted = two && index === 0 ? x - 3 - wide : x + 3;
    const left = Math.max(1, Math.min(wanted, WIDTH - wide));
    return [
      line(x, LINE_Y - 9, x, LINE_Y + 9, "limit"),
      text(left, LINE_Y - 10, said, "limit-figure", "start"),
    ];
  });
}

function marked(seen, scale) {
  const x = scale.place(seen.value);
  const style = `${seen.verdict}-line`;
  const parts = [];
  if (seen.over || seen.under) {
    const way = seen.over ? 1 : -1;
    const tip = x + ARROW * way;
    const back = tip - 4 * way;
    parts.push(
      line(x, LINE_Y, tip, LINE_Y, style),
      s("polyline", {
        class: `d-${style}`,
        points: `${back},${LINE_Y - 4} ${tip},${LINE_Y} ${back},${LINE_Y + 4}`,
      }),
    );
  } else if (seen.u) {
    const ends = [seen.value - seen.u, seen.value + seen.u].map((v) => scale.place(v));
    parts.push(line(ends[0], LINE_Y, ends[1], LINE_Y, style));
    for (const end of ends) parts.push(line(end, LINE_Y - 4, end, LINE_Y + 4, style));
  }
  const points = `${x},${LINE_Y - 7} ${x + 4.5},${LINE_Y} ${x},${LINE_Y + 7} ${x - 4.5},${LINE_Y}`;
  return [...parts, s("polygon", { class: `d-${seen.verdict}-mark`, points })];
}

function words(seen) {
  const sign = seen.over ? "over " : seen.under ? "under " : "";
  const parts = [`${sign}${shownAmount(seen.value, seen.unit)}, ${seen.verdict}`];
  if (seen.low !== null) parts.push(`at least ${shortAmount(seen.low, seen.unit)} is wanted`);
  if (seen.high !== null) parts.push(`at most ${shortAmount(seen.high, seen.unit)} is wanted`);
  return parts.join("; ");
}

function line(x1, y1, x2, y2, style) {
  return s("line", { class: `d-${style}`, x1, y1, x2, y2 });
}

function text(x, y, said, style, anchor) {
  return s("text", { class: `d-${style}`, x, y, "text-anchor": anchor }, said);
}

/** Return what a rule wants, in words, for a point without a reading. */
export function wanted(rule, conditions = {}) {
  const reference = rule.correction.by === "none" ? "" : ` at ${rule.correction.reference_c} °C`;
  const unit = baseOf(rule, { conditions });
  const said = [];
  for (const bound of rule.bounds) {
    if (!fits(bound, conditions)) continue;
    if (bound.kind === "low") said.push(limitWanted("at least", bound, rule, unit, reference));
    if (bound.kind === "high") said.push(limitWanted("at most", bound, rule, unit, reference));
    if (bound.kind === "high_of_lowest") said.push(`at most ${bound.times} × the lowest of the group`);
    if (bound.kind === "over_lowest") said.push(`at most ${shortAmount(bound.by, unit)} over the lowest of the group`);
    if (bound.kind === "bands") said.push(bandsWanted(bound, rule, unit));
    if (bound.kind === "of_baseline") said.push(baselineWanted(bound, unit));
    if (bound.kind === "near") said.push(nearWanted(bound, rule, conditions, unit, bound.of ? "" : reference));
    if (bound.kind === "near_angle") said.push(angleWanted(bound, rule, conditions));
    if (bound.kind === "expected") said.push(expectedWanted(bound));
    if (bound.kind === "withstand") said.push(`to hold ${bound.level_kv} kV for ${heldFor(bound.hold_s)}`);
    if (bound.kind === "operating_time") said.push(timeWanted(bound, conditions));
  }
  if (rule.unjudged.length) {
    for (const part of rule.unjudged) if (!part.when) said.push(part.reason);
  }
  return said.filter(Boolean).join("; ");
}

/** The outcome that is wanted; that all is as expected goes without saying. */
function expectedWanted({ met, word }) {
  if (word) return `${word} expected`;
  return met.length === 1 && met[0] === "as_expected" ? "" : met.map(outcomeWords).join(" or ");
}

function bandsWanted({ bands, of, unit, label }, rule, base) {
  const [safe] = bands;
  if (safe.to === undefined) return safe.word;
  const said = `${safe.word} up to ${shortAmount(safe.to, of ? (unit ?? "") : base)}`;
  return of ? `${label ?? labelOf(of, rule)}: ${said}` : said;
}

function labelOf(of, { derive = [], gates }) {
  return [derive.find(({ name }) => name === of), gates.find(({ on }) => on === of)].find((one) => one?.label)?.label ?? nameOf({ rule: { derive } }, of);
}

/** A limit of the reading, or of what is derived from it, in the unit of that. */
function limitWanted(words, { of, unit, value, label }, rule, base, reference) {
  if (!of) return `${words} ${shortAmount(value, base)}${reference}`;
  return `${label ?? labelOf(of, rule)} ${words} ${shortAmount(value, unit ?? "")}`;
}

function baselineWanted({ value, low_times: low, high_times: high }, unit) {
  const ends = [low && `at least ${low}`, high && `at most ${high}`].filter(Boolean);
  return `${ends.join(" and ")} × the baseline ${shortAmount(value, unit)}`;
}

/** Return what the limits that apply are cited from, the correction's source too. */
export function wantedCites(rule, conditions = {}) {
  const bounds = rule.bounds.filter((bound) => fits(bound, conditions));
  const at = bounds.flatMap((bound) => [bound.cite, bound.tolerance_cite]);
  if (rule.correction.by !== "none") at.push(rule.correction.cite);
  return at.filter(Number.isInteger).map((index) => rule.cite[index]);
}

function fits({ when }, conditions) {
  return Object.entries(when ?? {}).every(([name, value]) => conditions[name] === value);
}

export { saidUnit };

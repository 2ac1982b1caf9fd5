/**
 * The tablet's reader of a rule: what models/judging decides, decided without a server.
 *
 * One module without imports: it decides. It takes readings as measured.js gives them, and
 * gives verdicts, numbers and the steps to them as data, of which working.js makes
 * sentences. tests/data/golden.json holds all readers to one answer.
 */

const VERSIONS = ["version 1", "version 2", "version 3"];
export const LARGEST = 1e30; // beyond that a figure is a slip of the finger
const LARGEST_MULTIPLE = 1e6; // of pickup; nothing that is injected comes near it
const NEAR = 1e-9; // relative: two numbers are the same

// The last of these that was found is the verdict.
const VERDICTS = ["within", "unjudged", "marginal", "outside"];
const severity = (verdict) => VERDICTS.indexOf(verdict);

// An outcome is compared with these only, a number with all.
const OUTCOME_BOUNDS = {
  withstand: findWithstood,
  operating_time: findInTime,
  expected: findExpected,
};
const COMPARISONS = { high_of_lowest: findNearLowest, over_lowest: findOverLowest };
const BOUNDS = {
  low: (state, { value: low }, value) => findAtLeast(state, value, "minimum", low),
  high: (state, { value: high }, value) => findAtMost(state, value, "maximum", high),
  near: findNear,
  of_baseline: findOfBaseline,
  ...COMPARISONS,
  ...OUTCOME_BOUNDS,
};

const NO_NUMBER = { low: NaN, high: NaN, corrected: NaN, expanded: null, exact: false };

/** A rule cannot be read: better no verdict than a misread one. */
export class CriteriaError extends Error {
  name = "CriteriaError";
}

/**
 * Judge items as one group, in their order; an item is what `readItem` of measured.js
 * gives for a rule and a reading. `relay` is relay_times.js.
 *
 * Gives what `prepare` begins and `find` completes. Throws CriteriaError for a rule that
 * this reader does not know; everything else that is unknown leaves the reading unjudged.
 */
export function judge(items, relay) {
  const states = items.map(prepare);
  const open = states.filter((state) => !state.verdict);
  const group = { relay, ...lowestOf(open) };
  for (const state of open) {
    for (const bound of state.bounds) compare(state, bound, group);
    state.part = null;
    if (!state.verdict) unknown(state, "no_criterion");
  }
  return states;
}

/** Pass the gates, where the reading was derived from and corrected between them. */
function prepare(item) {
  const { rule, reading, typed, values } = item;
  checkRule(rule);
  const state = {
    ...item,
    numeric: !typed.outcome,
    bounds: rule.bounds.filter((bound) => applies(bound, reading)),
    steps: [],
    part: null,
    verdict: null,
    limit_low: -Infinity,
    limit_high: Infinity,
    ...(values.reading ?? NO_NUMBER),
    corrected: null,
  };
  if (typed.outcome === "broke_down") {
    find(state, "outside", "broke_down");
    return state;
  }
  const { derive = [] } = rule;
  const late = ({ on }) => derive.some(({ name }) => name === on);
  const parts = [...rule.unjudged, ...rule.gates];
  pass(state, parts.filter((part) => !late(part)));
  noteDerived(state, derive.filter(({ after }) => !after));
  if (state.numeric) correct(state);
  noteDerived(state, derive.filter(({ after }) => after));
  pass(state, parts.filter(late));
  return state;
}

/**
 * Note a step as {verdict, code, part, ...numbers}. Its part is the gate or bound of the
 * rule that is at hand; its `low` and `high` are limits: the tightest stay, and of the
 * verdicts the worst. A step without a verdict is only part of the working.
 */
function find(state, verdict, code, { low = -Infinity, high = Infinity, ...numbers } = {}) {
  state.steps.push({ verdict, code, part: state.part, low, high, ...numbers });
  if (!state.part?.of) {
    state.limit_low = Math.max(state.limit_low, low);
    state.limit_high = Math.min(state.limit_high, high);
  }
  if (severity(verdict) > severity(state.verdict)) state.verdict = verdict;
}

const unknown = (state, code, numbers) => find(state, "unjudged", code, numbers);

/** The verdict on a criterion that is met for sure, or perhaps, of what is known. */
export function verdictOf(sure, perhaps, exact) {
  if (sure) return "within";
  if (!perhaps) return "outside";
  return exact ? "marginal" : "unjudged";
}

/** Whether a is at or above b; exactly at it counts, infinity is near itself only. */
export function atLeast(a, b) {
  return a >= b || (b - a < Infinity && b - a <= NEAR * Math.max(Math.abs(a), Math.abs(b)));
}

// The rule

function checkRule(rule) {
  known(`version ${rule.v}`, VERSIONS);
  for (const { kind } of rule.bounds) known(kind, Object.keys(BOUNDS));
}

/** Throw CriteriaError for a word of a rule that is none of these. */
export function known(word, words) {
  if (words.includes(word)) return;
  throw new CriteriaError(`a rule says '${word}', which is none of ${words}`);
}

/** Whether a part's `when` fits the conditions; no `when` always does. */
export function applies({ when }, { conditions }) {
  return Object.entries(when ?? {}).every(([name, value]) => (conditions[name] ?? null) === value);
}

/** A condition of the reading; when it was not given NaN, which is at least nothing. */
const condition = ({ reading }, name) => reading.conditions[name] ?? NaN;

/** Note each part that does not let the reading pass. */
function pass(state, parts) {
  for (const part of parts) {
    state.part = part;
    if (applies(part, state.reading) && !opens(part, state)) unknown(state, "gate");
  }
}

/** Whether a gate lets the reading pass; a reason that holds from the start never does. */
function opens({ on, at_least: least, at_most: most, one_of: words }, state) {
  if (words) return words.includes(condition(state, on));
  const given = condition(state, on);
  const { low, high } = state.values[on] ?? { low: given, high: given };
  if (least === undefined && most === undefined) return !Number.isNaN(low);
  return atLeast(low, least ?? low) && atLeast(most ?? high, high);
}

/** What a part names: the reading, a derived value or a condition; NaN when not known. */
const valueOf = ({ values }, name = "reading") => values[name] ?? NO_NUMBER;

/** Note what was derived, or that it could not be. */
function noteDerived(state, parts) {
  for (const part of parts) {
    state.part = part;
    const { corrected: value, expanded } = valueOf(state, part.name);
    if (!Number.isNaN(value)) find(state, null, "derived", { value, expanded });
    else if (!state.verdict) unknown(state, "not_derived");
  }
}

/** Note how the reading was brought to the reference temperature, or that it was not. */
function correct(state) {
  const { factor, values } = state;
  state.part = null;
  if (factor) {
    state.corrected = values.reading.corrected;
    find(state, null, "corrected", { factor });
  } else if (!state.verdict || !Number.isNaN(condition(state, "temperature_c"))) {
    unknown(state, "not_corrected");
  }
}

// Bounds. Each is met beyond the guard band U where the accuracy is known

/** Compare with one bound what it names; an outcome is compared with few of them. */
function compare(state, bound, group) {
  state.part = bound;
  const value = valueOf(state, bound.of);
  const known = !Number.isNaN(value.corrected);
  if (bound.of && !known) return unknown(state, "not_derived");
  const bounds = known ? BOUNDS : OUTCOME_BOUNDS;
  if (!bounds[bound.kind]) return unknown(state, "number_wanted");
  bounds[bound.kind](state, bound, value, group);
}

function findAtLeast(state, value, code, low) {
  const sure = (low <= 0 && !value.signed) || atLeast(value.least, low); // U ends at nothing
  find(state, verdictOf(sure, atLeast(value.most, low), value.exact), code, { low });
}

function findAtMost(state, value, code, high) {
  const sure = atLeast(high, value.most);
  find(state, verdictOf(sure, atLeast(high, value.least), value.exact), code, { high });
}

/** No further from what is expected than the greater of a share of it and a fixed part. */
function findNear(state, bound, value) {
  const expected = state.expected.get(bound);
  if (!Number.isFinite(expected)) return unknown(state, "no_expected");
  const { pct = 0, fixed = 0, below = true, above = true } = bound;
  const within = Math.max((pct / 100) * Math.abs(expected), fixed);
  find(state, null, "expected_value", { expected, within });
  if (below) findAtLeast(state, value, "least", expected - within);
  if (above) findAtMost(state, value, "most", expected + within);
}

/** So many times the baseline: U of the ratio holds both. */
function findOfBaseline(state, bound, value) {
  const { value: baseline, u = 0, low_times: low, high_times: high } = bound;
  const ratio = value.corrected / baseline;
  const guard = Math.hypot(value.expanded, ratio * u) / baseline;
  const [least, most] = [value.low / baseline - guard, value.high / baseline + guard];
  const times = { ...value, least, most, signed: true };
  if (low) findAtLeast(state, times, "least_of_baseline", low);
  if (high) findAtMost(state, times, "most_of_baseline", high);
}

/** What was observed is what was expected; a number is something that operated. */
function findExpected(state, { met, missed, if_fitted: ifFitted }) {
  const { outcome = "operated" } = state.typed;
  const sure = met.includes(outcome) || (ifFitted && outcome === "not_fitted");
  find(state, verdictOf(sure, !missed.includes(outcome), false), "expected", { outcome });
}

/** Held for long enough at the level, and not far above it. */
function findWithstood(state, bound) {
  const low = bound.level_kv;
  if (state.numeric) return unknown(state, "outcome_wanted", { low });
  const testKv = condition(state, "test_kv");
  const reached = atLeast(testKv, low);
  const spared = atLeast(low * (1 + bound.over_pct / 100), testKv);
  const beyond = testKv > bound.rated_kv && !atLeast(bound.rated_kv, testKv);
  find(state, verdictOf(reached && spared && !beyond, !beyond, reached), "level", { low });
  const held = atLeast(condition(state, "duration_s"), bound.hold_s);
  find(state, verdictOf(held, true, false), "duration");
}

/** The operating time, at the multiple of the pickup as set or as measured. */
function findInTime(state, bound, value, { relay }) {
  const measured = bound.against === "measured_pickup";
  const pickup = measured ? condition(state, "measured_pickup_a") : bound.pickup_a;
  const settings = [bound.pickup_a, bound.time_dial, pickup];
  const possible = settings.every((value) => value > 0 && value < LARGEST);
  if (!possible) return unknown(state, "settings");
  if (measured) find(state, null, "measured_pickup");
  findAtMultiple(state, measured ? relay.unwidened(bound) : bound, pickup, relay);
  find(state, null, "timed");
}

function findAtMultiple(state, bound, pickup, { seenMultiples, timesAt }) {
  const multiple = condition(state, "applied_a") / pickup;
  if (multiple > LARGEST_MULTIPLE) return unknown(state, "no_multiple", { pickup });
  find(state, null, "multiple", { multiple, pickup });
  if (atLeast(1, multiple)) {
    const silent = state.typed.outcome === "no_trip";
    const perhaps = state.high === Infinity || !atLeast(1, seenMultiples(bound, multiple)[1]);
    return find(state, verdictOf(silent, perhaps, false), "below_pickup");
  }
  if (!atLeast(multiple, bound.start_multiple)) return unknown(state, "no_timing_point");
  find(state, null, "curve", { multiple });
  const times = timesAt(bound, multiple);
  if (!times) return unknown(state, "no_band");
  find(state, null, "tolerance", { multiple, ...times });
  const { low, high, expected } = times;
  const endless = high === Infinity;
  if (!state.numeric) return find(state, verdictOf(false, endless), "no_trip", { expected });
  findAtLeast(state, state, "earliest", low);
  if (!endless) findAtMost(state, state, "latest", high);
}

// Readings compared with the lowest of their group

const isComparison = ({ kind }) => Object.hasOwn(COMPARISONS, kind);

/**
 * The lowest of those that can be judged: between which values it lies, and whose it is.
 *
 * `relative` and `absolute` are the greatest U, over the value and as it is, of the
 * readings that may be the lowest; NaN where it is not known for all of them. An
 * under-range reading makes the lowest uncertain from below, an over-range one never
 * lowers it from above.
 */
function lowestOf(open) {
  const states = open.filter(({ rule, numeric }) => numeric && rule.bounds.some(isComparison));
  const low = Math.min(...states.map((state) => state.low));
  const high = Math.min(...states.map((state) => state.high));
  const first = states.find((state) => state.high === high);
  const lowest = states.filter((state) => state.low <= high);
  const relative = Math.max(...lowest.map(relativeU));
  const absolute = Math.max(...lowest.map(absoluteU));
  const ends = { lowest_low: low, lowest_high: high };
  return { lowest: { low, high, ends, relative, absolute, first, members: states } };
}

const absoluteU = ({ expanded }) => expanded ?? NaN;

/** U over the value; NaN without an accuracy, and of nothing. */
const relativeU = ({ expanded, corrected }) => (corrected ? (expanded ?? NaN) / corrected : NaN);

/** Whether both are one number; null where there is nothing to compare, which is noted. */
function comparable(state, lowest, otherwise, high) {
  if (lowest.members.length < 2) find(state, otherwise ? null : "unjudged", "alone");
  else if (lowest.high === Infinity) unknown(state, "all_over_range");
  else {
    const exact = lowest.low === lowest.high && state.exact;
    if (!exact || state !== lowest.first) return exact;
    find(state, "within", "is_lowest", { high });
  }
  return null;
}

/**
 * At most so many times the lowest of the group; alone, by a maximum only.
 *
 * What holds where the two may be nearest holds wherever they are. U of the ratio is the
 * root of the sum of squares of both relative U, for a quotient of independent
 * quantities: JCGM 100:2008 (GUM) 5.1.6.
 */
function findNearLowest(state, { times, odd_share: odd }, value, { lowest }) {
  const maximum = state.bounds.some(({ kind }) => kind === "high");
  const exact = comparable(state, lowest, maximum, times * lowest.high);
  if (exact === null) return;
  const relative = exact ? relativeU(lowest.first) : lowest.relative;
  const guardOf = (one) => Math.hypot(relativeU(one), relative);
  const missed = (one) => !atLeast(times * lowest.high, one.low * (1 - (guardOf(one) || 0)));
  const guard = guardOf(state);
  const sure = atLeast(times * lowest.low, state.high * (1 + (guard || 0)));
  const verdict = verdictOf(sure, !missed(state), exact);
  const high = lowest.low === lowest.high ? times * lowest.high : Infinity;
  find(state, verdict, "near_lowest", { high, ...lowest.ends, guard });
  const above = lowest.members.filter(missed).length;
  const members = lowest.members.length;
  if (verdict === "outside" && above > odd * members) {
    find(state, verdict, "odd_lowest", { above, members });
  }
}

/** At most so much over the lowest of the group; alone, by another bound only. */
function findOverLowest(state, { by }, value, { lowest }) {
  const others = state.bounds.some((bound) => !isComparison(bound));
  const exact = comparable(state, lowest, others, lowest.high + by);
  if (exact === null) return;
  const guard = Math.hypot(absoluteU(state), exact ? absoluteU(lowest.first) : lowest.absolute);
  const sure = atLeast(by, state.high - lowest.low + (guard || 0));
  const perhaps = atLeast(by, state.low - lowest.high - (guard || 0));
  const high = lowest.low === lowest.high ? lowest.high + by : Infinity;
  find(state, verdictOf(sure, perhaps, exact), "over_lowest", { high, ...lowest.ends, guard });
}

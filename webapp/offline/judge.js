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
// The two sides to be compared where the lowest is `low`; what else judges a lone reading.
const COMPARISONS = {
  high_of_lowest: {
    code: "near_lowest",
    limit: ({ times }, low) => times * low,
    u: (one) => relativeU(one),
    sides: ({ times }, low, value, guard) => [times * low, value * (1 + guard)],
    otherwise: ({ kind }) => kind === "high",
  },
  over_lowest: {
    code: "over_lowest",
    limit: ({ by }, low) => low + by,
    u: (one) => one.expanded ?? NaN,
    sides: ({ by }, low, value, guard) => [by, value - low + guard],
    otherwise: ({ kind }) => !COMPARISONS[kind],
  },
};
const BOUNDS = {
  low: (state, { value: low, resolve }, value) => {
    if (resolve && isBlurred(value, low, !atLeast(value.most, low))) unknown(state, "unresolved", { low });
    else findAtLeast(state, value, "minimum", low);
  },
  high: (state, { value: high, resolve }, value) => {
    if (resolve && isBlurred(value, high, !atLeast(high, value.least))) unknown(state, "unresolved", { high });
    else findAtMost(state, value, "maximum", high);
  },
  near: findSettled,
  near_angle: findSettled,
  bands: findSettled,
  of_baseline: findOfBaseline,
  high_of_lowest: findByLowest,
  over_lowest: findByLowest,
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
 * Gives what `prepare` begins and `find` completes. What is not known leaves the reading
 * unjudged.
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
  states.forEach(passLast);
  return states;
}

/** Pass the gates, where the reading was derived from and corrected between them. */
function prepare(item) {
  const { rule, reading, typed } = item;
  const state = {
    ...item,
    numeric: !typed.outcome,
    bounds: rule.bounds.filter((bound) => applies(bound, reading)),
    steps: [],
    part: null,
    verdict: null,
    limit_low: -Infinity,
    limit_high: Infinity,
    ...(item.measured ?? NO_NUMBER),
    corrected: null,
  };
  if (typed.outcome === "broke_down") {
    find(state, "outside", "broke_down");
    return state;
  }
  const { derive = [] } = rule;
  const late = ({ on, above }) => derive.some(({ name }) => name === (above?.of ?? on));
  const parts = [...rule.unjudged, ...rule.gates.filter(({ last }) => !last)];
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

/** Throw CriteriaError for a version or a bound that this reader does not know. */
export function checkRule(rule) {
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
  for (const part of parts.filter((one) => !opens(one, state))) {
    if (isSaid(state, part)) continue;
    state.part = part;
    unknown(state, "gate");
  }
}

/** Whether it was said before that what a gate looks at is not known, or why. */
function isSaid({ rule, values, reading, verdict, steps }, { on }) {
  if (!rule.derive?.length || on === undefined) return false;
  if (rule.derive.some(({ name }) => name === on)) return verdict && !values[on];
  return (reading.conditions[on] ?? null) === null && steps.some(({ code, part }) => code === "gate" && part.on === on);
}

/** Withhold the verdict where no range held the value, or a last gate does not open. */
function passLast(state) {
  if (state.beyondRanges) withhold(state, "beyond_ranges");
  for (const part of state.rule.gates.filter((gate) => gate.last && !opens(gate, state))) {
    state.part = part;
    withhold(state, "gate");
  }
}

/** Make a verdict unjudged for what the step of this code says; what is outside stays so. */
function withhold(state, code) {
  const outside = state.verdict === "outside";
  find(state, outside ? null : "unjudged", code);
  if (!outside) state.verdict = "unjudged";
}

/** Whether a gate lets the reading pass; a reason that holds from the start never does. */
function opens(part, state) {
  if (!applies(part, state.reading)) return true;
  if (part.series) return !state.rowFaults.get(part);
  if (part.not_zero) return state.typed.high !== 0;
  const { on, at_least: least, at_most: most, one_of: words } = part;
  if (words) return words.includes(condition(state, on));
  const given = condition(state, on);
  const { low, high } = state.values[on] ?? { low: given, high: given };
  if (least === undefined && most === undefined) return !Number.isNaN(low);
  if (typeof low !== "number") return false; // a word is none
  return atLeast(low, least ?? low) && atLeast(most ?? high, high);
}

/** What a part names: the reading, a derived value or a condition; NaN when not known. */
const valueOf = ({ values }, name = "reading") => values[name] ?? NO_NUMBER;

/** Note what was derived, or that it could not be. */
function noteDerived(state, parts) {
  for (const part of parts.filter((one) => applies(one, state.reading))) {
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
  if (state.rule.correction.by === "isochor") return carry(state);
  if (factor) {
    state.corrected = values.reading.corrected;
    find(state, null, "corrected", { factor });
  } else if (!state.verdict || !Number.isNaN(condition(state, "temperature_c"))) {
    unknown(state, "not_corrected");
  }
}

/** Note the density of a gas, at which its pressure was carried, or that it was not. */
function carry(state) {
  const { factor, values, pressure, density } = state;
  if (factor) {
    state.corrected = values.reading.corrected;
    find(state, null, "carried", { density });
  } else if (!state.verdict || (pressure && values.temperature_c)) {
    unknown(state, "not_carried");
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

/** The step of a value that is to be at least so much. */
export function atLeastStep(value, code, low, numbers) {
  const sure = (low <= 0 && !value.signed) || atLeast(value.least, low); // U ends at nothing
  return [verdictOf(sure, atLeast(value.most, low), value.exact), code, { low, ...numbers }];
}

/** The step of a value that is to be at most so much. */
export function atMostStep(value, code, high, numbers) {
  const [sure, perhaps] = [value.most, value.least].map((end) => atLeast(high, end));
  return [verdictOf(sure, perhaps, value.exact), code, { high, ...numbers }];
}

const findAtLeast = (state, ...value) => find(state, ...atLeastStep(...value));
const findAtMost = (state, ...value) => find(state, ...atMostStep(...value));
/** Whether U is too great to tell the limit, or not known. */
function isBlurred({ expanded }, limit, missed) {
  return expanded === null || (!missed && expanded > Math.abs(limit));
}

/** What bands.js has found of a value, step by step. */
function findSettled(state, bound) {
  for (const step of state.settled.get(bound)) find(state, ...step);
}

/** Between so many times the baseline; U of the ratio holds both, where there is one. */
function findOfBaseline(state, bound, value) {
  const { value: baseline, u = 0, low_times: low, high_times: high } = bound;
  const ratio = value.corrected / baseline;
  const expanded = value.expanded === null ? 0 : Math.hypot(value.expanded, ratio * u);
  const both = { ...value, least: value.low - expanded, most: value.high + expanded };
  const numbers = { ratio, guard: expanded / baseline };
  if (low) findAtLeast(state, both, "least_of_baseline", low * baseline, numbers);
  if (high) findAtMost(state, both, "most_of_baseline", high * baseline, numbers);
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
  const pickup = measured ? condition(state, "measured_pickup_a") : bound[relay.settingOf(bound)];
  const settings = [bound[relay.settingOf(bound)], bound.time_dial, pickup];
  const possible = settings.every((value) => value > 0 && value < LARGEST);
  if (!possible) return unknown(state, "settings");
  if (measured) find(state, null, "measured_pickup");
  findAtMultiple(state, measured ? relay.unwidened(bound) : bound, pickup, relay);
  find(state, null, "timed");
}

function findAtMultiple(state, bound, pickup, { appliedTo, reach, seenMultiples, timesAt }) {
  let multiple = condition(state, appliedTo(bound)) / pickup;
  if (multiple > LARGEST_MULTIPLE) return unknown(state, "no_multiple", { pickup });
  find(state, null, "multiple", { multiple, pickup });
  multiple = reach(bound, multiple);
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

/** U over the value; NaN without an accuracy, and of nothing. */
const relativeU = ({ expanded, corrected }) => (corrected ? (expanded ?? NaN) / corrected : NaN);

/**
 * The lowest of those that can be judged: between which values it lies, and whose it is.
 *
 * An under-range reading makes the lowest uncertain from below, an over-range one never
 * lowers it from above; `perhaps` may be the lowest.
 */
function lowestOf(open) {
  const members = open.filter(
    ({ rule, numeric }) => numeric && rule.bounds.some(({ kind }) => COMPARISONS[kind]),
  );
  const least = Math.min(...members.map((state) => state.low));
  const high = Math.min(...members.map((state) => state.high));
  const low = atLeast(least, high) ? high : least; // ends that are near are one number
  const perhaps = members.filter((state) => atLeast(high, state.low));
  return { low, high, members, perhaps, first: members.find((state) => state.high === high) };
}

/**
 * At most so many times, or so much over, the lowest of the group.
 *
 * What holds where the two may be nearest holds wherever they are. U is the root of the
 * sum of squares, of both relative U for a quotient of independent quantities (JCGM
 * 100:2008 (GUM) 5.1.6), of both U for a difference (5.1.2).
 */
function findByLowest(state, part, value, { low, high: lowest, members, perhaps, first }) {
  const { code, limit, u, sides, otherwise } = COMPARISONS[part.kind];
  const single = state.bounds.some(otherwise) ? null : "unjudged";
  if (members.length < 2) return find(state, single, "alone");
  if (lowest === Infinity) return unknown(state, "all_over_range");
  const high = low === lowest ? limit(part, lowest) : Infinity;
  const exact = low === lowest && state.exact;
  if (exact && state === first) return find(state, "within", "is_lowest", { high });
  const other = exact ? u(first) : Math.max(...perhaps.map(u));
  const guardOf = (one) => Math.hypot(u(one), other);
  const missed = (one) => !atLeast(...sides(part, lowest, one.low, -(guardOf(one) || 0)));
  const guard = guardOf(state);
  const sure = atLeast(...sides(part, low, state.high, guard || 0));
  const verdict = verdictOf(sure, !missed(state), exact);
  find(state, verdict, code, { high, lowest_low: low, lowest_high: lowest, guard });
  if (verdict !== "outside" || !part.odd_share) return;
  const above = members.filter(missed).length;
  if (above > part.odd_share * members.length) {
    find(state, verdict, "odd_lowest", { above, members: members.length });
  }
}

/**
 * The tablet's reader of a rule: what models/judging decides, decided without a server.
 *
 * One module without imports. It takes what typed.js has read and gives verdicts, numbers
 * and the steps to them as data, of which working.js makes sentences.
 * tests/data/golden.json holds all readers to one answer.
 */

const VERSIONS = ["version 1", "version 2"];
export const LARGEST = 1e30; // beyond that a figure is a slip of the finger
const LARGEST_MULTIPLE = 1e6; // of pickup; nothing that is injected comes near it
const COVERAGE = 2; // k
const NEAR = 1e-9; // relative: two numbers are the same

// The last of these that was found is the verdict.
const VERDICTS = ["within", "unjudged", "marginal", "outside"];
const severity = (verdict) => VERDICTS.indexOf(verdict);

const DECISIONS = ["simple", "guarded"];

const CORRECTIONS = { none: () => 1, factor: tableFactor, metal: metalFactor };

// An outcome is compared with these only, a number with all.
const OUTCOME_BOUNDS = { withstand: findWithstood, operating_time: findInTime };
const BOUNDS = {
  low: (state, { value }) => findAtLeast(state, "minimum", value),
  high: (state, { value }) => findAtMost(state, "maximum", value),
  high_of_lowest: findNearLowest,
  ...OUTCOME_BOUNDS,
};

/**
 * Quantity: its units, and their factors to MOhm, s or Pa as numerator and denominator.
 * Exact powers of ten but for the torr: 101 325 Pa / 760 (SI brochure, 9th edition,
 * note).
 */
const QUANTITIES = {
  resistance: {
    uOhm: [1, 1e12], mOhm: [1, 1e9], Ohm: [1, 1e6], kOhm: [1, 1e3],
    MOhm: [1, 1], GOhm: [1e3, 1], TOhm: [1e6, 1],
  },
  time: { s: [1, 1], ms: [1, 1e3] },
  pressure: { Pa: [1, 1], mbar: [100, 1], Torr: [101325, 760] },
};

/** What was typed cannot be used; `fault` is {field, code} and what its words need. */
export class InputError extends Error {
  constructor(field, code, details) {
    super(code);
    this.fault = { field, code, ...details };
  }
}

/** A rule cannot be read: better no verdict than a misread one. */
export class CriteriaError extends Error {
  name = "CriteriaError";
}

/**
 * Judge items as one group, in their order; an item is {rule, reading, typed, unit},
 * the last two as `checkReading` of typed.js gives them.
 *
 * Gives what `prepare` begins and `find` completes. Throws CriteriaError for a rule that
 * this reader does not know; everything else that is unknown leaves the reading unjudged.
 */
export function judge(items) {
  const states = items.map(prepare);
  const open = states.filter((state) => !state.verdict);
  const lowest = lowestOf(open);
  for (const state of open) {
    for (const bound of state.bounds) {
      state.part = bound;
      const compare = (state.numeric ? BOUNDS : OUTCOME_BOUNDS)[bound.kind];
      if (compare) compare(state, bound, lowest);
      else unknown(state, "number_wanted");
    }
    if (!state.verdict) unknown(state, "no_criterion");
  }
  return states;
}

/** Pass the gates and correct: everything that needs no other reading. */
function prepare(item) {
  const { rule, reading, typed } = item;
  checkRule(rule);
  const numeric = !typed.outcome;
  const state = {
    ...item,
    numeric,
    exact: typed.low === typed.high,
    value: numeric ? boundOf(typed) : null,
    bounds: rule.bounds.filter((bound) => applies(bound, reading)),
    steps: [],
    verdict: null,
    corrected: null,
    expanded: null, // U, of a bound too; null without an accuracy
    limit_low: -Infinity,
    limit_high: Infinity,
  };
  if (typed.outcome === "broke_down") {
    find(state, "outside", "broke_down");
    return state;
  }
  for (const part of [...rule.unjudged, ...rule.gates]) {
    state.part = part;
    if (applies(part, reading) && !opens(part, state)) unknown(state, "gate");
  }
  if (numeric) correct(state);
  return state;
}

/**
 * Note a step as {verdict, code, part, ...numbers}. Its part is the gate or bound of the
 * rule that is at hand; its `low` and `high` are limits: the tightest stay, and of the
 * verdicts the worst. A step without a verdict is only part of the working.
 */
function find(state, verdict, code, { low = -Infinity, high = Infinity, ...numbers } = {}) {
  state.steps.push({ verdict, code, part: state.part, low, high, ...numbers });
  state.limit_low = Math.max(state.limit_low, low);
  state.limit_high = Math.min(state.limit_high, high);
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
  return a >= b || (b < Infinity && b - a <= NEAR * Math.max(Math.abs(a), Math.abs(b)));
}

// The rule

function checkRule(rule) {
  known(`version ${rule.v}`, VERSIONS);
  known(rule.correction.by, Object.keys(CORRECTIONS));
  known(rule.decision, DECISIONS);
  for (const { kind } of rule.bounds) known(kind, Object.keys(BOUNDS));
}

function known(word, words) {
  if (words.includes(word)) return;
  throw new CriteriaError(`a rule says '${word}', which is none of ${words}`);
}

/** Whether a part's `when` fits the conditions; no `when` always does. */
export function applies({ when }, { conditions }) {
  return Object.entries(when ?? {}).every(([name, value]) => (conditions[name] ?? null) === value);
}

/** A condition of the reading; when it was not given NaN, which is at least nothing. */
const condition = ({ reading }, name) => reading.conditions[name] ?? NaN;

/** Whether a gate lets the reading pass; a reason that holds from the start never does. */
function opens({ on, at_least: wanted }, state) {
  const value = condition(state, on);
  return wanted === undefined ? !Number.isNaN(value) : atLeast(value, wanted);
}

/** The number shown: the value itself, or the bound that is known. */
export const boundOf = ({ low, high }) => (low === -Infinity ? high : low);

/** The quantity that a unit belongs to. */
export function quantityOf(unit) {
  return Object.keys(QUANTITIES).find((quantity) => Object.hasOwn(QUANTITIES[quantity], unit));
}

/** A value in the unit `to`; InputError when the two are not of one quantity. */
export function convert(value, unit, to) {
  const wanted = quantityOf(to);
  const { [unit]: given, [to]: asked } = QUANTITIES[wanted];
  if (!given) throw new InputError("unit", "other_quantity", { unit, wanted });
  return (value * (given[0] * asked[1])) / (given[1] * asked[0]);
}

// Correction and uncertainty

/**
 * Bring everything to the rule's unit and the reference temperature: the value, which
 * lies from `low` to `high`, and with its uncertainty from `least` to `most`. Nothing
 * measured here is negative.
 */
function correct(state) {
  const { rule, reading, typed, value, unit } = state;
  const celsius = condition(state, "temperature_c");
  const factor = correctionFactor(rule.correction, celsius);
  const toRule = (number) => convert(number, unit, rule.unit) * (factor || 1);
  state.low = Math.max(0, toRule(typed.low));
  state.high = toRule(typed.high);
  if (reading.accuracy && rule.decision === "guarded") {
    state.expanded = toRule(expandedU(reading.accuracy, value, unit));
  }
  state.least = state.low - state.expanded;
  state.most = state.high + state.expanded;
  if (factor) {
    state.corrected = toRule(value);
    find(state, null, "corrected", { factor });
  } else if (!state.verdict || !Number.isNaN(celsius)) {
    unknown(state, "not_corrected");
  }
}

/** The factor to the reference temperature; none beyond what the table knows. */
export function correctionFactor(correction, celsius) {
  return CORRECTIONS[correction.by](correction, celsius);
}

/** The resistance of a metal is linear, and nothing at -k: IEC 60028, 234.5 for copper. */
function metalFactor(metal, celsius) {
  const above = metal.k + celsius;
  return above > 0 ? (metal.k + metal.reference_c) / above : null;
}

/** Join the table's points log-linearly; never beyond its ends. */
function tableFactor({ points }, celsius) {
  const next = points.findIndex(([at]) => at >= celsius);
  const [highC, high] = points[next] ?? [];
  if (highC === celsius) return high;
  if (next < 1) return null;
  const [lowC, low] = points[next - 1];
  return low * (high / low) ** ((celsius - lowC) / (highC - lowC));
}

/**
 * U (k = 2) of a value in `unit`, in that unit; accuracy is {pct, fixed, unit}.
 *
 * The stated limits are taken as a rectangular distribution: standard uncertainty =
 * half-width / sqrt(3). Source: JCGM 100:2008 (GUM) 4.3.7; expanded with k = 2, 6.2.
 */
function expandedU(accuracy, value, unit) {
  const fixed = convert(accuracy.fixed, accuracy.unit || unit, unit);
  const halfWidth = (accuracy.pct / 100) * value + fixed;
  return (COVERAGE * halfWidth) / Math.sqrt(3);
}

/** U over the value; NaN without an accuracy, and of nothing. */
const relativeU = ({ expanded, corrected }) => (corrected ? (expanded ?? NaN) / corrected : NaN);

// Bounds. Each is met beyond the guard band U where the accuracy is known

function findAtLeast(state, code, low) {
  const sure = low <= 0 || atLeast(state.least, low); // U ends at nothing
  find(state, verdictOf(sure, atLeast(state.most, low), state.exact), code, { low });
}

function findAtMost(state, code, high) {
  const sure = atLeast(high, state.most);
  find(state, verdictOf(sure, atLeast(high, state.least), state.exact), code, { high });
}

/** Held for long enough at the level, and not far above it. */
function findWithstood(state, bound) {
  const low = bound.level_kv;
  if (state.numeric) return unknown(state, "outcome_wanted", { low });
  const testKv = condition(state, "test_kv");
  const reached = atLeast(testKv, low);
  const spared = atLeast(low * (1 + bound.over_pct / 100), testKv);
  find(state, verdictOf(reached && spared, true, reached), "level", { low });
  const held = atLeast(condition(state, "duration_s"), bound.hold_s);
  find(state, verdictOf(held, true, false), "duration");
}

/** The operating time, at the multiple of the pickup as set or as measured. */
function findInTime(state, bound) {
  const measured = bound.against === "measured_pickup";
  const pickup = measured ? condition(state, "measured_pickup_a") : bound.pickup_a;
  const settings = [bound.pickup_a, bound.time_dial, pickup];
  const possible = settings.every((value) => value > 0 && value < LARGEST);
  if (!possible) return unknown(state, "settings");
  if (measured) find(state, null, "measured_pickup");
  findAtMultiple(state, measured ? unwidened(bound) : bound, pickup);
  find(state, null, "timed");
}

/** An operating-time bound as it is once the pickup has been measured. */
export const unwidened = (bound) => ({ ...bound, pickup_error_pct: 0, current_error_pct: 0 });

function findAtMultiple(state, bound, pickup) {
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
  findAtLeast(state, "earliest", low);
  if (!endless) findAtMost(state, "latest", high);
}

/**
 * Between which times a relay may operate at a multiple; null where no band holds it.
 *
 * Worst case of pickup, current and time together: latest t(least) and its tolerance
 * more, earliest t(most) and its tolerance less. At a border of bands the first holds,
 * the wider one.
 */
export function timesAt(bound, multiple) {
  const band = (bound.bands ?? [{ from: 0, times: 1 }]).find(
    ({ from, to = Infinity }) => atLeast(multiple, from) && atLeast(to, multiple),
  );
  if (!band) return null;
  const pct = bound.tolerance_pct * band.times;
  const [least, most] = seenMultiples(bound, multiple);
  const [slow, fast, expected] = [least, most, multiple].map((seen) => expectedTime(bound, seen));
  const margin = (time) => Math.max((pct / 100) * time, bound.tolerance_s);
  const low = Math.max(0, fast - margin(fast));
  return { band, pct, least, most, slow, fast, expected, low, high: slow + margin(slow) };
}

/** The least and the greatest multiple that the relay may see, by the declared errors. */
function seenMultiples({ pickup_error_pct: pickupPct, current_error_pct: currentPct }, multiple) {
  const pickup = (pickupPct ?? 0) / 100;
  const current = (currentPct ?? 0) / 100;
  return [(multiple * (1 - current)) / (1 + pickup), (multiple * (1 + current)) / (1 - pickup)];
}

/** The time of the curve as set: flat above a ceiling, never below a minimum. */
function expectedTime({ curve, time_dial: dial, ceiling_multiple: ceiling, ...bound }, multiple) {
  const seconds = operatingTime(curve, dial, Math.min(multiple, ceiling ?? Infinity));
  return Math.max(seconds, bound.minimum_time_s ?? 0);
}

/**
 * The time in seconds at a multiple of pickup; infinite at or below 1.
 *
 * Inverse: t = dial (A / (M^p - 1) + B). With B = 0 this is the IEC form, where A is
 * k and p is alpha. Sources: IEEE C37.112 (trip equation), IEC 60255-151
 * (inverse-time characteristic). Definite: t = dial.
 */
export function operatingTime({ form, a, b, p }, timeDial, multiple) {
  if (multiple <= 1) return Infinity;
  if (form === "definite") return timeDial;
  return timeDial * (a / (multiple ** p - 1) + b);
}

// Readings compared with the lowest of their group

/**
 * The lowest of those that can be judged: between which values it lies, and whose it is.
 *
 * `relative` is the greatest relative U of the readings that may be the lowest; NaN
 * where it is not known for all of them. An under-range reading makes the lowest
 * uncertain from below, an over-range one never lowers it from above.
 */
function lowestOf(open) {
  const states = open.filter(
    ({ rule, numeric }) => numeric && rule.bounds.some(({ kind }) => kind === "high_of_lowest"),
  );
  const low = Math.min(...states.map((state) => state.low));
  const high = Math.min(...states.map((state) => state.high));
  const relative = Math.max(...states.filter((state) => state.low <= high).map(relativeU));
  const first = states.find((state) => state.high === high);
  return { low, high, relative, first, members: states.length };
}

/**
 * At most so many times the lowest of the group; alone, by a maximum only.
 *
 * What holds where the two may be nearest holds wherever they are. U of the ratio is the
 * root of the sum of squares of both relative U, for a quotient of independent
 * quantities: JCGM 100:2008 (GUM) 5.1.6.
 */
function findNearLowest(state, { times }, lowest) {
  const { low, high, first } = lowest;
  const maximum = state.bounds.some(({ kind }) => kind === "high");
  if (lowest.members < 2) return find(state, maximum ? null : "unjudged", "alone");
  if (high === Infinity) return unknown(state, "all_over_range");
  const exact = low === high && state.exact;
  const limit = { high: low === high ? times * high : Infinity };
  if (exact && state === first) return find(state, "within", "is_lowest", limit);
  const guard = Math.hypot(relativeU(state), exact ? relativeU(first) : lowest.relative);
  const sure = atLeast(times * low, state.high * (1 + (guard || 0)));
  const perhaps = atLeast(times * high, state.low * (1 - (guard || 0)));
  find(state, verdictOf(sure, perhaps, exact), "near_lowest", { ...limit, lowest, guard });
}

/**
 * The tablet's reader of a rule: what models/judging decides, decided without a server.
 *
 * One module without imports. It gives verdicts, numbers and the steps to them as data;
 * working.js makes sentences of them, fault_words.js of what is refused.
 * tests/data/golden.json holds all readers to one answer.
 */

const VERSIONS = [1, 2]; // of a rule
const LARGEST = 1e30; // beyond that a figure is a slip of the finger
const LARGEST_MULTIPLE = 1e6; // of pickup; nothing that is injected comes near it
const COVERAGE = 2; // k
const NEAR = 1e-9; // relative: two numbers are the same

// The last of these that was found is the verdict.
const WORST_LAST = ["within", "unjudged", "marginal", "outside"];

const DECISIONS = ["simple", "guarded"];
const PROVENANCES =
  "published confirmed corrected memory computed practice maker project".split(" ");

const CORRECTIONS = { none: () => ({ factor: 1 }), factor: tableFactor, metal: metalFactor };

const BOUNDS = {
  low: (state, { value }) => findAtLeast(state, "minimum", value),
  high: (state, { value }) => findAtMost(state, "maximum", value),
  high_of_lowest: findNearLowest,
  withstand: findWithstood,
  operating_time: findInTime,
};
const NUMERIC_BOUNDS = ["low", "high", "high_of_lowest"];

const WITHSTOOD = ["held", "broke_down"];

const PROCEDURES = {
  insulation_resistance: { units: ["GOhm", "MOhm", "kOhm", "TOhm"], outcomes: [] },
  contact_resistance: { units: ["uOhm", "mOhm"], outcomes: [] },
  vacuum_integrity: { units: ["Pa", "mbar", "Torr"], outcomes: WITHSTOOD },
  relay_timing: { units: ["s", "ms"], outcomes: ["no_trip"] },
  dielectric_withstand: { units: [], outcomes: WITHSTOOD },
};

/**
 * Unit: its quantity, and the factor to MOhm, s or Pa as numerator and denominator.
 * Exact powers of ten but for the torr: 101 325 Pa / 760 (SI brochure, 9th edition,
 * note).
 */
const UNITS = {
  uOhm: ["resistance", 1, 1e12],
  mOhm: ["resistance", 1, 1e9],
  Ohm: ["resistance", 1, 1e6],
  kOhm: ["resistance", 1, 1e3],
  MOhm: ["resistance", 1, 1],
  GOhm: ["resistance", 1e3, 1],
  TOhm: ["resistance", 1e6, 1],
  s: ["time", 1, 1],
  ms: ["time", 1, 1e3],
  Pa: ["pressure", 1, 1],
  mbar: ["pressure", 100, 1],
  Torr: ["pressure", 101325, 760],
};

const OHM_SPELLINGS = /(ohms|Ohms|ohm|OHM)$/;
const OHM_SIGNS = /[\u03a9\u2126]/g; // Greek omega, ohm sign
const MICRO_SIGNS = /[\u00b5\u03bc]/g; // micro sign, Greek mu
const OTHER_SPELLINGS = { torr: "Torr", pa: "Pa", sec: "s", msec: "ms" };

// What Python calls white space; \s knows neither 1C to 1F nor 85, but FEFF.
const WHITE_SPACE =
  /[\t-\r\x1c-\x20\x85\xa0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]+/g;

// Spaces of every kind, and the marks that text editors leave.
const OUTER_BLANKS = /^[\p{Z}\p{Cf}\p{Cc}]+|[\p{Z}\p{Cf}\p{Cc}]+$/gu;

// Digits are 0 to 9 only: other scripts' digits are refused, not guessed.
const NUMBER = /^[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]+)?$/;

/** What was typed cannot be used; `fault` is {field, code} and what its words need. */
export class InputError extends Error {
  constructor(fault) {
    super(fault.code);
    this.fault = fault;
  }
}

/** A rule cannot be read: better no verdict than a misread one. */
export class CriteriaError extends Error {
  name = "CriteriaError";
}

/**
 * Judge items as one group, in their order; an item is {rule, reading}.
 *
 * Gives what `prepare` begins and `find` completes. Throws InputError when a text cannot
 * be a reading of its procedure at all, and CriteriaError for a rule that this reader
 * does not know; everything else that is unknown leaves the reading unjudged.
 */
export function judge(items) {
  const states = items.map(prepare);
  const open = states.filter(({ verdict }) => verdict === null);
  const lowest = lowestOf(open);
  for (const state of open) {
    for (const bound of state.bounds) {
      state.part = bound;
      if (!state.numeric && NUMERIC_BOUNDS.includes(bound.kind)) unknown(state, "number_wanted");
      else BOUNDS[bound.kind](state, bound, lowest);
    }
    if (state.verdict === null) unknown(state, "no_criterion");
  }
  return states;
}

/** Read, pass the gates and correct: everything that needs no other reading. */
function prepare({ rule, reading }) {
  checkRule(rule);
  const procedure = { name: rule.procedure, ...PROCEDURES[rule.procedure] };
  const { value: typed, unit } = checkReading(procedure, reading.text, reading.unit);
  const numeric = !typed.outcome;
  const state = {
    rule,
    reading,
    typed,
    numeric,
    exact: typed.low === typed.high,
    bounds: rule.bounds.filter((bound) => applies(bound, reading)),
    expanded: null, // U of a bound too
    steps: [],
    // the judgement
    verdict: null,
    value: numeric ? boundOf(typed) : null,
    unit,
    corrected: null,
    corrected_unit: numeric ? rule.unit : null,
    limit_low: null,
    limit_high: null,
    uncertainty: null,
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
function find(state, verdict, code, numbers = {}) {
  const { low = null, high = null } = numbers;
  state.steps.push({ verdict, code, part: state.part, ...numbers });
  if (low !== null) state.limit_low = Math.max(state.limit_low ?? low, low);
  if (high !== null) state.limit_high = Math.min(state.limit_high ?? high, high);
  const worse = WORST_LAST.indexOf(verdict) > WORST_LAST.indexOf(state.verdict);
  if (worse) state.verdict = verdict;
}

const unknown = (state, code, numbers) => find(state, "unjudged", code, numbers);

/** The verdict on a criterion that is met for certain, or perhaps, of what is known. */
export function verdictOf(certainly, perhaps, exact) {
  if (certainly) return "within";
  if (!perhaps) return "outside";
  return exact ? "marginal" : "unjudged";
}

/** Whether a is at or above b; exactly at it counts, infinity is near itself only. */
export function atLeast(a, b) {
  return a >= b || (b < Infinity && b - a <= NEAR * Math.max(Math.abs(a), Math.abs(b)));
}

// The rule

function checkRule(rule) {
  if (!VERSIONS.includes(rule.v)) {
    throw new CriteriaError(`a rule of version ${rule.v}; this program reads ${VERSIONS}`);
  }
  known(rule.procedure, Object.keys(PROCEDURES));
  known(rule.correction.by, Object.keys(CORRECTIONS));
  known(rule.decision, DECISIONS);
  for (const { kind } of rule.bounds) known(kind, Object.keys(BOUNDS));
  for (const { provenance } of rule.cite) known(provenance, PROVENANCES);
}

function known(word, words) {
  if (words.includes(word)) return;
  throw new CriteriaError(`a rule says '${word}', which is none of ${words.join(", ")}`);
}

/** Whether a part's `when` fits the conditions; no `when` always does. */
function applies({ when }, { conditions }) {
  return Object.entries(when ?? {}).every(([name, value]) => (conditions[name] ?? null) === value);
}

/** A condition of the reading; when it was not given NaN, which is at least nothing. */
const condition = ({ reading }, name) => reading.conditions[name] ?? NaN;

/** Whether a gate lets the reading pass; a reason that holds from the start never does. */
function opens({ on, at_least: wanted }, state) {
  const value = condition(state, on);
  return wanted === undefined ? !Number.isNaN(value) : atLeast(value, wanted);
}

// What was typed

/**
 * Read a typed value: `4.2`, `>200`, `<0.01`, `3e-4`, `held` ...
 *
 * Gives {low, high}, infinite on a side where nothing is known, or {outcome}. Throws
 * InputError; never guesses (4,2 is neither 4.2 nor 42).
 */
export function parseValue(text) {
  const [sign, number] = signAndNumber(text);
  if (!sign && [...WITHSTOOD, "no_trip"].includes(number)) return { outcome: number };
  if (!NUMBER.test(number)) refuse("value", "no_number", { number });
  const value = Number(number);
  if (!(Math.abs(value) < LARGEST)) refuse("value", "too_large", { number });
  return { low: sign === "<" ? -Infinity : value, high: sign === ">" ? Infinity : value };
}

/** A typed value's sign and digits, without the blanks and marks that nobody sees. */
export function signAndNumber(text) {
  const [, sign, number] = /^([<>]?)(.*)$/s.exec(text.replace(OUTER_BLANKS, ""));
  return [sign, number.replace(OUTER_BLANKS, "")];
}

function refuse(field, code, details) {
  throw new InputError({ field, code, ...details });
}

/** The number shown: the value itself, or the bound that is known. */
const boundOf = ({ low, high }) => (low === -Infinity ? high : low);

/**
 * What was typed as a reading of a procedure {name, units, outcomes}: {value, unit}.
 *
 * Throws InputError: not a number, a unit that does not fit, a negative reading, an
 * outcome that this test does not have.
 */
export function checkReading(procedure, text, symbol) {
  const { units, outcomes } = procedure;
  const value = parseValue(text);
  const given = { procedure, symbol, ...value };
  if (outcomes.includes(value.outcome)) return { value, unit: null };
  if (value.outcome || units.length === 0) refuse("value", "other_kind", given);
  const unit = unitName(symbol ?? "");
  if (!units.includes(unit)) refuse("unit", "other_unit", given);
  if (boundOf(value) < 0) refuse("value", "negative", given);
  return { value, unit };
}

/**
 * Our name of the unit that a symbol stands for, or null.
 *
 * MΩ, Mohm and MOhm are one unit; M and m are not.
 */
export function unitName(symbol) {
  const spelled = symbol
    .replace(WHITE_SPACE, "")
    .replace(OHM_SIGNS, "Ohm")
    .replace(MICRO_SIGNS, "u")
    .replace(OHM_SPELLINGS, "Ohm");
  const unit = OTHER_SPELLINGS[spelled] ?? spelled;
  return Object.hasOwn(UNITS, unit) ? unit : null;
}

/** A value in the unit `to`; InputError when the two are not of one quantity. */
export function convert(value, unit, to) {
  const [quantity, times, over] = UNITS[unit];
  const [wanted, timesTo, overTo] = UNITS[to];
  if (quantity !== wanted) refuse("unit", "other_quantity", { unit, wanted });
  return (value * (times * overTo)) / (over * timesTo);
}

// Correction and uncertainty

/**
 * Bring everything to the rule's unit and the reference temperature: the value, which
 * lies from `low` to `high`, and its uncertainty. Nothing measured here is negative.
 */
function correct(state) {
  const { rule, reading, typed, value, unit } = state;
  const { by } = rule.correction;
  const temperatureC = condition(state, "temperature_c");
  const { factor, points } = CORRECTIONS[by](rule.correction, temperatureC);
  const inRuleUnit = (number) => convert(number, unit, rule.unit) * (factor ?? 1);
  state.low = Math.max(0, inRuleUnit(typed.low));
  state.high = inRuleUnit(typed.high);
  if (reading.accuracy && rule.decision === "guarded") {
    state.expanded = inRuleUnit(expandedU(reading.accuracy, value, unit));
    if (state.exact) state.uncertainty = state.expanded;
  }
  if (factor !== null) {
    state.corrected = inRuleUnit(value);
    find(state, null, "corrected", { factor, points });
  } else if (state.verdict === null || !Number.isNaN(temperatureC)) {
    unknown(state, "not_corrected");
  }
}

/** The resistance of a metal is linear, and nothing at -k: IEC 60028, 234.5 for copper. */
function metalFactor({ k, reference_c: referenceC }, temperatureC) {
  const above = k + temperatureC;
  return { factor: above > 0 ? (k + referenceC) / above : null };
}

/** Join the table's points log-linearly; never beyond its ends. */
function tableFactor({ points }, temperatureC) {
  const row = points.find(([at]) => at === temperatureC);
  if (row) return { factor: row[1], points: [row] };
  const next = points.findIndex(([at]) => at > temperatureC);
  if (next < 1) return { factor: null };
  const between = points.slice(next - 1, next + 1);
  const [[lowC, low], [highC, high]] = between;
  const share = (temperatureC - lowC) / (highC - lowC);
  return { factor: low * (high / low) ** share, points: between };
}

/**
 * U (k = 2) of a value in `unit`, in that unit; accuracy is {pct, fixed, unit}.
 *
 * The stated limits are taken as a rectangular distribution: standard uncertainty =
 * half-width / sqrt(3). Source: JCGM 100:2008 (GUM) 4.3.7; expanded with k = 2, 6.2.
 */
function expandedU(accuracy, value, unit) {
  const fixed = convert(accuracy.fixed, accuracy.unit || unit, unit);
  const halfWidth = (accuracy.pct / 100) * Math.abs(value) + fixed;
  return (COVERAGE * halfWidth) / Math.sqrt(3);
}

/** U over the value; null without an accuracy, and of nothing. */
function relativeU({ expanded, corrected }) {
  return expanded === null || corrected === 0 ? null : expanded / corrected;
}

// Bounds. Each is met beyond the guard band U where the accuracy is known

function findAtLeast(state, code, limit) {
  const { low, high, expanded, exact } = state;
  const certainly = limit <= 0 || atLeast(low - expanded, limit); // U ends at nothing
  const perhaps = atLeast(high + expanded, limit);
  find(state, verdictOf(certainly, perhaps, exact), code, { low: limit });
}

function findAtMost(state, code, limit) {
  const { low, high, expanded, exact } = state;
  const certainly = atLeast(limit, high + expanded);
  const perhaps = atLeast(limit, low - expanded);
  find(state, verdictOf(certainly, perhaps, exact), code, { high: limit });
}

/** Held for long enough at the level, and not far above it. */
function findWithstood(state, { level_kv: low, over_pct: overPct, hold_s: holdS }) {
  if (state.numeric) return unknown(state, "outcome_wanted", { low });
  const testKv = condition(state, "test_kv");
  const reached = atLeast(testKv, low);
  const stressed = !atLeast(low * (1 + overPct / 100), testKv);
  const held = atLeast(condition(state, "duration_s"), holdS);
  find(state, verdictOf(reached && !stressed, true, reached), "level", { low });
  find(state, verdictOf(held, true, false), "duration");
}

/** The operating time, at the multiple of the pickup as set or as measured. */
function findInTime(state, bound) {
  const { pickup_a: setA, time_dial: dial, against } = bound;
  if (![setA, dial].every(isSetting)) return unknown(state, "settings");
  const measuredA = against ? condition(state, "measured_pickup_a") : NaN;
  if (against !== "measured_pickup") {
    findAgainst(state, bound, setA);
    if (!Number.isNaN(measuredA)) find(state, null, "measured_beside");
  } else if (isSetting(measuredA)) {
    find(state, null, "measured_pickup");
    findAgainst(state, unwidened(bound), measuredA);
    find(state, null, "setting_beside");
  } else {
    unknown(state, "no_measured_pickup");
  }
}

const isSetting = (value) => value > 0 && value < LARGEST;

/** An operating-time bound as it is once the pickup has been measured. */
export const unwidened = (bound) => ({ ...bound, pickup_error_pct: 0, current_error_pct: 0 });

function findAgainst(state, bound, pickup) {
  const multiple = condition(state, "applied_a") / pickup;
  if (multiple > LARGEST_MULTIPLE) return unknown(state, "no_multiple", { pickup });
  find(state, null, "multiple", { multiple, pickup });
  if (atLeast(1, multiple)) {
    const silent = state.typed.outcome === "no_trip";
    const perhaps = state.high === Infinity || !atLeast(1, seenMultiples(bound, multiple)[1]);
    find(state, verdictOf(silent, perhaps, false), "below_pickup");
  } else if (atLeast(multiple, bound.start_multiple)) {
    findOnCurve(state, bound, multiple);
  } else {
    unknown(state, "no_timing_point");
  }
}

function findOnCurve(state, bound, multiple) {
  find(state, null, "curve", { multiple });
  const times = timesAt(bound, multiple);
  if (!times) return unknown(state, "no_band");
  const { low, expected } = times;
  const endless = times.high === Infinity;
  const high = endless ? null : times.high;
  find(state, null, "tolerance", { multiple, ...times, high });
  if (!state.numeric) return find(state, endless ? "unjudged" : "outside", "no_trip", { expected });
  findAtLeast(state, "earliest", low);
  if (!endless) findAtMost(state, "latest", high);
}

/**
 * Between which times a relay may operate at a multiple; null where no band holds it.
 *
 * Worst case of pickup, current and time together: latest t(least) and its tolerance
 * more, earliest t(most) and its tolerance less.
 */
export function timesAt(bound, multiple) {
  const band = bound.bands ? bandAt(bound.bands, multiple) : { times: 1 };
  if (!band) return null;
  const pct = bound.tolerance_pct * band.times;
  const [least, most] = seenMultiples(bound, multiple);
  const [slow, fast] = [least, most].map((seen) => expectedTime(bound, seen));
  const margin = (time) => Math.max((pct / 100) * time, bound.tolerance_s);
  return {
    band,
    pct,
    least,
    most,
    slow,
    fast,
    expected: expectedTime(bound, multiple),
    low: Math.max(0, fast - margin(fast)),
    high: slow + margin(slow),
  };
}

/** The assigned-error band that holds a multiple; at a border the first, the wider one. */
function bandAt(bands, multiple) {
  return bands.find(({ from, to = Infinity }) => atLeast(multiple, from) && atLeast(to, multiple));
}

/** The least and the greatest multiple that the relay may see, by the declared errors. */
function seenMultiples({ pickup_error_pct: pickupPct, current_error_pct: currentPct }, multiple) {
  const pickup = (pickupPct ?? 0) / 100;
  const current = (currentPct ?? 0) / 100;
  return [
    (multiple * (1 - current)) / (1 + pickup),
    (multiple * (1 + current)) / (1 - pickup),
  ];
}

/** The time of the curve as set: flat above a ceiling, never below a minimum. */
function expectedTime(bound, multiple) {
  const { curve, time_dial: dial, ceiling_multiple: ceiling, minimum_time_s: least } = bound;
  return Math.max(operatingTime(curve, dial, Math.min(multiple, ceiling ?? Infinity)), least ?? 0);
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
 * `relative` is the greatest relative U of the readings that may be the lowest; null
 * where it is not known for all of them. An under-range reading makes the lowest
 * uncertain from below, an over-range one never lowers it from above.
 */
function lowestOf(open) {
  const states = open.filter(
    ({ rule, numeric }) => numeric && rule.bounds.some(({ kind }) => kind === "high_of_lowest"),
  );
  const low = Math.min(...states.map((state) => state.low));
  const high = Math.min(...states.map((state) => state.high));
  const maybe = states.filter((state) => state.low <= high).map(relativeU);
  const relative = maybe.includes(null) ? null : Math.max(...maybe);
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
  const limit = low === high ? { high: times * high } : {};
  if (exact && state === first) return find(state, "within", "is_lowest", limit);
  const parts = [relativeU(state), exact ? relativeU(first) : lowest.relative];
  const guard = parts.includes(null) ? null : Math.hypot(...parts);
  const certainly = atLeast(times * low, state.high * (1 + guard));
  const perhaps = atLeast(times * high, state.low * (1 - guard));
  const verdict = verdictOf(certainly, perhaps, exact);
  find(state, verdict, "near_lowest", { ...limit, lowest, guard, exact });
}

/**
 * Gas: a pressure at 20 degC along constant density, a leak rate, moisture. The same as
 * isochor.py, leak.py and moisture.py of models/judging, step by step.
 */

import { expandedU } from "./units.js";

const ZERO_C = 273.15; // K
const PA_PER_KPA = 1000;
const HALVINGS = 60; // of the interval of densities: to the last bit of a double
const PPM = 1e6;

// `make` is `number` of measured.js, `values` what is known by name.

// The equation of state: Beattie-Bridgeman form, P in kPa, d in kg/m3, T in degC

const volume = ({ b0, b }, d) => b0 * d * (1 - b * d);
const attraction = ({ a0, a }, d) => a0 * (1 - a * d);

/** The absolute pressure of a density in kPa. */
export function pressureKpa(gas, d, celsius) {
  const kelvin = celsius + ZERO_C;
  const pascal = gas.r * d * kelvin * (1 + volume(gas, d)) - attraction(gas, d) * d ** 2;
  return pascal / PA_PER_KPA;
}

/** By how much the pressure grows with the density. */
function byDensity(gas, d, celsius) {
  const repelled = 1 + 2 * gas.b0 * d - 3 * gas.b0 * gas.b * d ** 2;
  const attracted = 2 * gas.a0 * d - 3 * gas.a0 * gas.a * d ** 2;
  return (gas.r * (celsius + ZERO_C) * repelled - attracted) / PA_PER_KPA;
}

const byTemperature = (gas, d) => (gas.r * d * (1 + volume(gas, d))) / PA_PER_KPA;

/** The density at a pressure, which grows with it, so that halving finds it. */
function densityAt(gas, kpa, celsius) {
  let [low, high] = [0, gas.densest];
  for (let n = 0; n < HALVINGS; n += 1) {
    const middle = (low + high) / 2;
    if (pressureKpa(gas, middle, celsius) < kpa) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** The saturation pressure, joined log-linearly; undefined beyond the points. */
function saturationKpa({ saturation: points = [] }, celsius) {
  const next = points.findIndex(([at], index) => index > 0 && at >= celsius);
  if (next < 1 || points[0][0] > celsius) return undefined;
  const [[lowC, low], [highC, high]] = [points[next - 1], points[next]];
  return low * Math.exp(((celsius - lowC) / (highC - lowC)) * Math.log(high / low));
}

/** Why there is no such gas: {code, numbers}; null where its pressure is carried. */
export function refusalOf(gas, { corrected: kpa, expanded }, celsius) {
  const { from_c: coldest, to_c: hottest, densest } = gas;
  const at = { temperature: celsius };
  if (!(celsius >= coldest && celsius <= hottest)) {
    return { code: "gas.temperature", numbers: { ...at, coldest, hottest } };
  }
  if (!(kpa > 0)) return { code: "gas.no_pressure", numbers: {} };
  const numbers = { ...at, pressure: kpa };
  const most = saturationKpa(gas, celsius);
  if (most !== undefined && kpa + expanded >= most) {
    return { code: "gas.condensing", numbers: { ...numbers, most } };
  }
  if (pressureKpa(gas, densest, celsius) < kpa) {
    return { code: "gas.too_dense", numbers: { ...numbers, densest } };
  }
  return null;
}

/** Carry an absolute pressure to the reference temperature: {value, density, whole} or null. */
export function carried(gas, pressure, at, make) {
  const { corrected: celsius } = at;
  const to = gas.reference_c;
  if (refusalOf(gas, pressure, celsius)) return null;
  const density = densityAt(gas, pressure.corrected, celsius);
  const slope = byDensity(gas, density, to) / byDensity(gas, density, celsius);
  const byHeat = slope * byTemperature(gas, density);
  const known = pressure.expanded !== null || at.expanded !== null;
  const expanded = known ? Math.hypot(slope * pressure.expanded, byHeat * at.expanded) : null;
  const shown = pressureKpa(gas, density, to);
  const work = (kpa) => {
    if (kpa === pressure.corrected) return shown;
    return kpa > 0 && kpa < Infinity ? pressureKpa(gas, densityAt(gas, kpa, celsius), to) : kpa;
  };
  const { signed } = pressure;
  const value = make(work(pressure.low), work(pressure.high), shown, { expanded, base: "kPa", signed });
  return { value, density, whole: pressure.expanded !== null && at.expanded !== null };
}

/** A temperature with U of the thermometer: its own, else by the half-width that is named. */
export function temperatureOf({ correction, decision }, values, name) {
  const found = values[name];
  const half = values[correction.thermometer]?.corrected;
  if (!found || found.expanded !== null || half === undefined || decision === "simple") return found;
  return { ...found, expanded: (2 * half) / Math.sqrt(3) };
}

const relative = ({ expanded, corrected }) => (corrected ? (expanded ?? NaN) / Math.abs(corrected) : NaN);

/**
 * The loss a year from the first pressure to the second, with `first` and `told`, U times
 * the hours that lie between: a limit can be told after told / limit hours.
 */
export function rateOf(part, second, { rule, values, item, make }) {
  if (rule.correction.by !== "isochor") return undefined; // which gas it is, is not known
  const hours = values[part.over_h];
  const first = firstOf(part, { rule, values, item, make });
  if (!second || !first || !(hours?.low > 0)) return undefined;
  const p1 = first.value.corrected;
  const scale = 100 * part.year_h;
  const whole = first.whole && isWhole(rule, values, item);
  const both = Math.hypot(relative(second) || 0, relative(first.value) || 0);
  const work = (p2) => (scale * (1 - p2 / p1)) / hours.corrected;
  const rate = make(work(second.high), work(second.low), work(second.corrected), {
    expanded: whole ? (((scale / hours.corrected) * second.corrected) / p1) * both : null,
    base: part.unit ?? "%/year",
    signed: true,
  });
  const told = whole ? scale * Math.SQRT2 * relative(first.value) : NaN;
  return { ...rate, first, told: Number.isNaN(told) ? null : told };
}

/** Whether U of gauge and thermometer are known for the second reading. */
function isWhole(rule, values, item) {
  const read = values[rule.correction.of ?? ""] ?? item.asRead;
  const at = temperatureOf(rule, values, "temperature_c");
  return (read?.expanded ?? null) !== null && (at?.expanded ?? null) !== null;
}

/** The first pressure at the reference temperature; undefined where it is not known. */
function firstOf(part, { rule, values, item, make }) {
  const read = values[part.first];
  const at = temperatureOf(rule, values, part.first_c);
  if (!read || !at) return undefined;
  const expanded = read.expanded ?? uOfGauge(rule, item, values[part.gauge ?? part.first]);
  return carried(rule.correction, { ...read, expanded, signed: false }, at, make) ?? undefined;
}

/** U of the gauge of the second reading at what the first one showed. */
function uOfGauge(rule, { stated, unit }, showed) {
  if (!stated || !showed) return null;
  return expandedU({ ...stated, unit: stated.unit || unit }, showed.corrected, rule.unit);
}

// Moisture

const overIcePa = ({ a, b_c: b, e0_pa: e0 }, t) => e0 * Math.exp((a * t) / (b + t));

function frostPointC({ a, b_c: b, e0_pa: e0 }, pascal) {
  const power = Math.log(pascal / e0);
  return power >= a ? Infinity : (b * power) / (a - power);
}

/** By which share the pressure over ice grows with the temperature, per K. */
const steepness = ({ a, b_c: b }, t) => (a * b) / (b + t) ** 2;

/** {value, share, there, here}: what a moisture comes to; null where it cannot be worked out. */
export function vapourAt(part, x, atKpa) {
  const there = therePa(part, x);
  const known = part.from === "ppmv" || (there !== null && atKpa > 0);
  const share = part.from === "ppmv" ? x : (PPM * there) / (atKpa * PA_PER_KPA);
  if (!known || !(share > 0)) return null;
  const here = part.to_kpa === undefined ? null : (share / PPM) * part.to_kpa * PA_PER_KPA;
  if (part.to === "ppmv") return { value: share, share, there, here };
  if (here === null) return null;
  const value = part.to === "pa" ? here : frostPointC(part, here);
  return Number.isFinite(value) ? { value, share, there, here } : null;
}

function therePa(part, x) {
  if (part.from === "ppmv") return null;
  if (part.from === "pa") return x;
  return x >= part.from_c && x <= part.to_c ? overIcePa(part, x) : null;
}

const FORMS = { frost_point: "degC", ppmv: "ppmv", pa: "Pa" };

/** A moisture in another form, or at another pressure. */
export function vapourOf(part, x, { values, make }) {
  const needsAt = part.from !== "ppmv";
  const at = needsAt ? values[part.at] : undefined;
  if (!x || (needsAt && !at)) return undefined;
  const found = vapourAt(part, x.corrected, at?.corrected);
  if (!found) return undefined;
  const signed = part.to === "frost_point";
  const nothing = signed ? -Infinity : 0;
  const work = (end) => {
    if (end === x.corrected) return found.value;
    if (Math.abs(end) === Infinity) return end < 0 ? nothing : end;
    return vapourAt(part, end, at?.corrected)?.value ?? nothing;
  };
  const expanded = uOfVapour(part, x, at, found);
  return make(work(x.low), work(x.high), found.value, { expanded, base: FORMS[part.to], signed });
}

function uOfVapour(part, x, at, { value }) {
  const ofPressure = at ? relative(at) : NaN;
  if (x.expanded === null && Number.isNaN(ofPressure)) return null;
  const by = part.from === "frost_point" ? steepness(part, x.corrected) : 1 / x.corrected;
  const both = Math.hypot(by * x.expanded, ofPressure || 0);
  return part.to === "frost_point" ? both / steepness(part, value) : both * value;
}

/**
 * Polarization index and absorption ratio: information, and never a verdict.
 */

import { correctionFactor } from "../correction.js";
import { convert } from "../units.js";
import { near, rowOf, stepAt } from "../rows.js";
import { say } from "../words/catalogue.js";
import { amount, figure, plain, saidUnit } from "../words/numbers.js";
import { typedWords } from "../words/shown.js";

const ONE_MINUTE_S = 60;

// The later and the earlier time in s, and the prefix of a band's ends.
const RATIOS = [
  [600, 60, "pi"],
  [60, 30, "dar"],
];

const series = () => say("series.timed");

export function polarizationWords(state, note) {
  const steps = rowOf(state, "timed");
  if (steps === null) return [];
  if (steps.length === 0) return [say("series.unreadable", { series: series() })];
  const differing = differingWords(state, steps);
  const ratios = RATIOS.flatMap((ratio) => ratioWords(steps, note.bands, ratio));
  if (ratios.length === 0) return [...differing, say("polarization.none", { series: series() })];
  const tooHigh = tooHighWords(state, note, steps);
  return [...differing, ...ratios, ...tooHigh, say("polarization.information")];
}

/** Where the reading after one minute is not the reading itself. */
function differingWords(state, steps) {
  const minute = stepAt(steps, ONE_MINUTE_S);
  const { typed, numeric, unit } = state;
  if (!minute || !numeric || (same(minute.low, typed.low) && same(minute.high, typed.high))) {
    return [];
  }
  const parts = { minute: `${minute.text} ${saidUnit(unit)}`, typed: typedWords(state) };
  return [say("polarization.differing", { series: series(), ...parts })];
}

/** The same number, or without end on the same side. */
const same = (a, b) => a === b || (Number.isFinite(a) && Number.isFinite(b) && near(a, b));

function ratioWords(steps, bands, [lateS, earlyS, prefix]) {
  const [late, early] = [stepAt(steps, lateS), stepAt(steps, earlyS)];
  if (!late || !early) return [];
  const low = quotient(late.low, early.high);
  const high = quotient(late.high, early.low);
  const ratio = low ?? high;
  if (ratio === null) return [];
  const parts = {
    title: say(`polarization.${prefix}`),
    quotient: quotientWords(late, early),
    ratio: figure(ratio, 3),
  };
  if (low === high) return [bandWords(bands, prefix, low, parts)];
  return [say(high === null ? "polarization.at_least" : "polarization.at_most", parts)];
}

function quotientWords(late, early) {
  return say("polarization.ratio", {
    late: late.text,
    late_s: plain(late.at),
    early: early.text,
    early_s: plain(early.at),
  });
}

function quotient(above, below) {
  return Number.isFinite(above) && Number.isFinite(below) && below ? above / below : null;
}

function bandWords(bands, prefix, ratio, parts) {
  const band = bands.find(({ [`${prefix}_from`]: from, [`${prefix}_to`]: to }) =>
    ratio >= (from ?? -Infinity) && (to === undefined || ratio < to),
  );
  if (!band) return say("polarization.no_band", parts);
  return say("polarization.band", { ...parts, band: band.word });
}

/** Where the resistance is so high that the index has no meaning. */
function tooHighWords({ rule, steps: found, unit }, note, steps) {
  const minute = stepAt(steps, ONE_MINUTE_S);
  const factor = found.find(({ code }) => code === "corrected")?.factor;
  const there = correctionFactor(rule.correction, note.limit_c);
  if (!minute || minute.low === -Infinity || !factor || !there) return [];
  const atLimit = (convert(minute.low, unit, "MOhm") * factor) / there;
  if (!(atLimit > note.limit_mohm)) return [];
  const unitOf = (value) => amount(value, rule.unit ?? "");
  const id = `polarization.too_high${minute.low === minute.high ? "" : ".at_least"}`;
  return [
    say(id, {
      limit_c: plain(note.limit_c),
      corrected: unitOf(atLimit * there),
      factor: figure(there),
      value: unitOf(atLimit),
      limit: unitOf(note.limit_mohm),
    }),
  ];
}

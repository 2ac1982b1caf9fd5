/**
 * Polarization index and absorption ratio: information, and never a verdict.
 */

import { correctionFactor } from "../correction.js";
import { convert } from "../units.js";
import { amount, figure, plain, saidUnit } from "../words/numbers.js";
import { typedWords } from "../words/said.js";
import { near, rowOf, stepAt, UNREADABLE } from "./rows.js";

const TITLE = "Readings over time";
const ONE_MINUTE_S = 60;

// Title, the later and the earlier time in s, and the prefix of a band's ends.
const RATIOS = [
  ["Polarization index", 600, 60, "pi"],
  ["Absorption ratio", 60, 30, "dar"],
];

export function polarizationWords(state, note) {
  const steps = rowOf(state, "timed");
  if (steps === null) return [];
  if (steps.length === 0) return [`${TITLE}: ${UNREADABLE}`];
  const differing = differingWords(state, steps);
  const ratios = RATIOS.flatMap((ratio) => ratioWords(steps, note.bands, ratio));
  if (ratios.length === 0) {
    const wanted = "no ratio can be formed; 60 s with 30 s or with 600 s is wanted.";
    return [...differing, `${TITLE}: ${wanted}`];
  }
  return [
    ...differing,
    ...ratios,
    ...tooHighWords(state, note, steps),
    "These ratios are information: the absorption current of air-insulated bus and vacuum " +
      "breakers dies in seconds. No verdict rests on them.",
  ];
}

/** Where the reading after one minute is not the reading itself. */
function differingWords(state, steps) {
  const minute = stepAt(steps, ONE_MINUTE_S);
  const { typed, numeric, unit } = state;
  if (!minute || !numeric || (same(minute.low, typed.low) && same(minute.high, typed.high))) {
    return [];
  }
  return [
    `${TITLE}: after 60 s ${minute.text} ${saidUnit(unit)}, but the reading is ` +
      `${typedWords(state)}. Check which was meant.`,
  ];
}

/** The same number, or without end on the same side. */
const same = (a, b) => a === b || (Number.isFinite(a) && Number.isFinite(b) && near(a, b));

function ratioWords(steps, bands, [title, lateS, earlyS, prefix]) {
  const [late, early] = [stepAt(steps, lateS), stepAt(steps, earlyS)];
  if (!late || !early) return [];
  const low = quotient(late.low, early.high);
  const high = quotient(late.high, early.low);
  const ratio = low ?? high;
  if (ratio === null) return [];
  const exact = low === high;
  const side = high === null ? "at least " : "at most ";
  const shown = figure(ratio, 3);
  return [
    `${title}: ${late.text} (${plain(late.at)} s) / ${early.text} (${plain(early.at)} s) = ` +
      `${exact ? "" : side}${shown}${exact ? bandWords(bands, prefix, low) : "."}`,
  ];
}

function quotient(above, below) {
  return Number.isFinite(above) && Number.isFinite(below) && below ? above / below : null;
}

function bandWords(bands, prefix, ratio) {
  const band = bands.find(
    (one) =>
      ratio >= (one[`${prefix}_from`] ?? -Infinity) && ratio < (one[`${prefix}_to`] ?? Infinity),
  );
  return band ? `, '${band.word}' in the trade's bands.` : ", in none of the trade's bands.";
}

/** Where the resistance is so high that the index has no meaning. */
function tooHighWords({ rule, steps: found, unit }, note, steps) {
  const minute = stepAt(steps, ONE_MINUTE_S);
  const factor = found.find(({ code }) => code === "corrected")?.factor;
  const there = correctionFactor(rule.correction, note.limit_c);
  if (!minute || minute.low === -Infinity || !factor || !there) return [];
  const atLimit = (convert(minute.low, unit, "MOhm") * factor) / there;
  if (!(atLimit > note.limit_mohm)) return [];
  const side = minute.low === minute.high ? "" : "at least ";
  const [corrected, limit, shown] = [atLimit * there, note.limit_mohm, atLimit].map((value) =>
    amount(value, rule.unit ?? ""),
  );
  return [
    `At ${plain(note.limit_c)} °C the resistance after 60 s would be ${side}${corrected} / ` +
      `${figure(there)} = ${shown}, above ${limit}: the index has no meaning there.`,
  ];
}

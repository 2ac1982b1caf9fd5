/**
 * What was worked out of a row of readings, and what was wanting of one.
 */

import { TOE } from "../knee.js";
import { boundOf, isExact, pointsOf, rowOf, stepAt, straightAt } from "../rows.js";
import { FROM_ROWS, placeOf } from "../series_words.js";
import { SERIES } from "../tables.js";
import { join, say } from "./catalogue.js";
import { nameOf } from "./names.js";
import { figure, plain, saidUnit } from "./numbers.js";

const WORDS = {
  series_at: atWords,
  series_between: betweenWords,
  series_spread: (state, part, said) => say("derived.series_spread", { values: valuesWords(state, part), ...said }),
  series_where: (state, part, said) =>
    say("derived.series_where", {
      wanted: `${plain(part.value)} ${valueUnit(state, part)}`,
      curve: curveWords(state, part),
      ...said,
    }),
  knee: (state, part, said) =>
    say("derived.knee", { definition: definitionOf(part), curve: curveWords(state, part), ...said }),
};

/** How a value was worked out of a row. */
export const fromRowWords = (state, part, said) => WORDS[part.op](state, part, said);

/** By what a knee is marked. */
export function definitionOf({ by, degrees, step_pct: step, value_pct: rise }) {
  if (by === "slope") return say("knee.slope", { degrees: plain(degrees) });
  return say("knee.rise", { step: plain(step), rise: plain(rise) });
}

function curveWords(state, { series }) {
  return say("curve.joined", { points: String(pointsOf(series, rowOf(state, series)).length) });
}

const valueUnit = ({ unit }, { series }) => saidUnit(SERIES[series].unit || unit);
const place = ({ series }, at) => `${figure(at)} ${SERIES[series].step_unit}`;
const step = ({ series }, at) => `${plain(at)} ${SERIES[series].step_unit}`;

function atWords(state, part, said) {
  if (part.step !== undefined) return say("derived.series_at.step", { at: step(part, part.step), ...said });
  return say("derived.series_at.share", {
    at: place(part, placeOf(part, part.share, state.reading)),
    share: figure(100 * part.share, 3),
    what: nameOf(state, part.share_of),
    ...said,
  });
}

function betweenWords(state, part, said) {
  const steps = rowOf(state, part.series);
  const shown = (at) => shownWords(state, part, stepAt(steps, at));
  return say(`derived.series_between.${part.as}`, {
    late: shown(part.late),
    early: shown(part.early),
    late_at: step(part, part.late),
    early_at: step(part, part.early),
    ...said,
  });
}

function shownWords(state, part, reading) {
  const sign = isExact(reading) ? "" : reading.high === Infinity ? ">" : "<";
  return `${sign}${plain(boundOf(reading))} ${valueUnit(state, part)}`;
}

function valuesWords(state, part) {
  const steps = rowOf(state, part.series);
  const values = part.shares.map((share) => straightAt(steps, placeOf(part, share, state.reading)));
  return join("list.and", values.map((value) => `${figure(value)} ${valueUnit(state, part)}`));
}

/** Why nothing can be worked out of a row. */
export function notFromRowWords(state, part, name) {
  const why = FROM_ROWS[part.op](part, state.reading, state.asRead);
  if (why === "no_distance") return say("not_derived", { name, what: nameOf(state, part.share_of) });
  if (why === "not_reached" && ["knee", "series_where"].includes(part.op)) {
    return say(`not_derived.${part.op}.${why}`, { name, ...endWords(state, part) });
  }
  const steps = [part.step, part.late, part.early].filter((at) => at !== undefined);
  return say(`not_derived.${why}`, {
    name,
    series: say(`series.${part.series}`),
    steps: steps.length ? join("list.or", steps.map((at) => step(part, at))) : "",
    toe: plain(TOE),
  });
}

/** Where a curve ends, and what was sought beyond. */
function endWords(state, part) {
  const points = pointsOf(part.series, rowOf(state, part.series));
  const last = step(part, points.at(-1)[0]);
  if (part.op === "knee") return { last, definition: definitionOf(part) };
  const unit = valueUnit(state, part);
  const most = `${plain(Math.max(...points.map(([, value]) => value)))} ${unit}`;
  return { last, most, wanted: `${plain(part.value)} ${unit}` };
}

/** What is wrong with a row, and what the gate says of it besides. */
export function rowGateWords(state, gate) {
  const { why, ...numbers } = state.rowFaults.get(gate);
  const series = say(`series.${gate.series}`);
  const id = why === "unreadable" ? "series.unreadable" : `gate.series.${why}`;
  const said = say(id, { series, ...gateParts(state, gate, why, numbers) });
  return gate.reason === undefined ? said : `${said} ${gate.reason}`;
}

function gateParts(state, gate, why, numbers) {
  const parts = {};
  for (const [name, value] of Object.entries(numbers)) {
    if (["at", "next", "from", "to"].includes(name)) parts[name] = step(gate, value);
    else if (["value", "then"].includes(name)) parts[name] = `${plain(value)} ${valueUnit(state, gate)}`;
    else parts[name] = name === "gap" ? figure(value, 3) : plain(value);
  }
  if (gate.above) parts.name = nameOf(state, gate.above.of);
  if (why === "gap") parts.most = plain(gate.gap_pct);
  return parts;
}

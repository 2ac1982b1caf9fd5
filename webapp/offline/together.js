/**
 * Cards that answer one question together: where each stands, and what follows. The twin of
 * models/record/together.py, letter by letter.
 */

import { kneeOf, whereReached } from "./knee.js";
import { pointsOf, rowOf } from "./rows.js";
import { UNITS } from "./tables.js";
import { convert } from "./units.js";
import { has, say } from "./words/catalogue.js";
import { amount, saidUnit } from "./words/numbers.js";

const NEAR_SHARE = 0.02; // currents that differ by more are two

/**
 * What stands on the cards of one question, in words. `members`: [card, what its readings
 * give]; `known`: parts that the nameplates say; `shown`: lines of theirs; `rules`: those of
 * the points, by id.
 */
export function together(question, members, known, shown, rules = {}) {
  const there = members.filter(([card]) => card.state !== "withdrawn");
  const figures = Object.fromEntries(Object.entries(known).map(([name, value]) => [name, { value, point: "" }]));
  Object.assign(figures, fromReadings(question, there, { ...figures }, rules));
  const named = [...question.plus, ...question.minus, ...question.times, question.at_most].filter(Boolean);
  const lacks = named
    .filter((name) => !figures[name])
    .map((name) => say("together.lacks", { what: question.parts[name].label }));
  return {
    title: question.title,
    members: there.map(([card]) => member(card)),
    shown,
    lacks,
    follows: lacks.length ? [] : follows(question, figures),
  };
}

/** Where one card stands: its last reading, and how many points are open. */
function member(card) {
  const held = standing(card);
  const last = held.reduce((one, other) => (one && one.taken_at >= other.taken_at ? one : other), null);
  const left = card.points.length - new Set(held.map((one) => one.point_id)).size;
  return {
    card_id: card.id,
    title: card.title,
    apparatus: card.apparatus.label,
    last: last ? readingWords(card, last) : say("together.none"),
    verdict: last ? last.judgement.verdict : null,
    open: left ? say("together.open", { left: String(left) }) : "",
  };
}

const standing = (card) => card.readings.filter((one) => !one.superseded_by);
const pointOf = (card, reading) => card.points.find(({ id }) => id === reading.point_id);

function readingWords(card, reading) {
  const { text, judgement } = reading;
  const unit = saidUnit(reading.unit ?? "");
  const outcome = `outcome.${text}`;
  return say("together.reading", {
    point: pointOf(card, reading).label,
    value: has(outcome) ? say(outcome) : `${text} ${unit}`.trim(),
    verdict: say(`verdict.${judgement.verdict}`),
  });
}

/** The parts that readings give: what is read goes before the nameplate. */
function fromReadings(question, members, known, rules) {
  const found = {};
  for (const [card, gives] of members) {
    for (const one of gives) {
      const part = question.parts[one.part];
      if (!part) continue;
      for (const reading of standing(card)) {
        const own = one.derived?.length ? readOff(card, reading, one, rules) : { value: valueOf(card, reading, one, part, known) };
        if (Number.isFinite(own?.value)) (found[one.part] ??= []).push({ ...own, point: pointOf(card, reading).label });
      }
    }
  }
  return Object.fromEntries(Object.entries(found).map(([name, each]) => [name, taken(question.parts[name], each)]));
}

const taken = ({ take }, figures) =>
  figures.reduce((one, other) => ((take === "greatest" ? other.value > one.value : other.value < one.value) ? other : one));

/** What the rule of the point reads off its row, with the name that it has there. */
function readOff(card, reading, { derived }, rules) {
  const derive = rules[pointOf(card, reading).rule_id]?.derive ?? [];
  const named = derived.map((name) => derive.find((part) => part.name === name)).find(Boolean);
  const steps = named && rowOf({ reading }, named.series);
  if (reading.judgement.verdict === "unjudged" || !steps?.length) return null;
  const points = pointsOf(named.series, steps);
  return { value: named.op === "knee" ? kneeOf(named, points) : whereReached(points, named.value), label: named.label };
}

/** What a reading gives in the unit of its part; null where it gives nothing. */
function valueOf(card, reading, gives, part, known) {
  const { corrected, corrected_unit: unit, verdict } = reading.judgement;
  if (verdict === "unjudged" || !Number.isFinite(corrected) || /^\s*[<>]/.test(reading.text)) return null;
  const conditions = { ...pointOf(card, reading).given, ...reading.conditions };
  if (!fits(conditions, gives, known)) return null;
  if (gives.over) {
    const by = conditions[gives.over];
    return Number.isFinite(by) && by > 0 ? corrected / by : null;
  }
  const same = UNITS[unit] && UNITS[unit].quantity === UNITS[part.unit].quantity;
  return same ? convert(corrected, unit, part.unit) : null;
}

function fits(conditions, gives, known) {
  const where = Object.entries(gives.where).every(([name, word]) => conditions[name] === word);
  return where && Object.entries(gives.at).every(([name, part]) => isNear(conditions[name], known[part]?.value));
}

const isNear = (at, wanted) => Number.isFinite(at) && wanted !== undefined && Math.abs(at - wanted) <= NEAR_SHARE * wanted;

/** The sentence of the figures, and the one of what they are compared with. */
function follows(question, figures) {
  const sum = (names) => names.reduce((total, name) => total + figures[name].value, 0);
  const joined = (names, sign) => names.map((name) => said(question, name, figures)).join(sign);
  let value = sum(question.plus) - sum(question.minus);
  let work = joined(question.plus, " + ");
  if (question.minus.length) work += ` − ${joined(question.minus, " − ")}`;
  for (const name of question.times) {
    value *= figures[name].value;
    const several = question.plus.length + question.minus.length > 1;
    const factor = said(question, name, figures);
    work = several ? `(${work}) × ${factor}` : `${work} × ${factor}`;
  }
  const sentences = [say("together.follows", { what: question.follows, work, value: amount(value, question.unit) })];
  const { at_most: most } = question;
  if (most) {
    const word = value <= figures[most].value ? "at_most" : "above";
    sentences.push(say(`together.${word}`, { limit: said(question, most, figures) }));
  }
  return sentences;
}

function said(question, name, figures) {
  const { label, unit } = question.parts[name];
  const { value, point, label: what = label } = figures[name];
  const shown = amount(value, unit);
  return point ? say("together.part.read", { what, value: shown, point }) : say("together.part", { what, value: shown });
}

// The verdict on this tablet: the same rule and the same reader as on the server.

import { checkReading, InputError, judge, withInstrumentGates } from "/offline/reader.js";
import { accuracyOf, beyond } from "./instruments.js";
import { readField } from "./read_field.js";
import { siteDay } from "./words.js";

/** Return the readings that hold, by point id. */
export function standing(card) {
  const found = new Map();
  for (const reading of card.readings) {
    if (!reading.superseded_by) found.set(reading.point_id, reading);
  }
  return found;
}

/** Return whether an instrument is in calibration on a day (2026-11-25). */
export function inCalibration(instrument, day) {
  if (!instrument?.calibrated_on) return false;
  return instrument.calibrated_on <= day && day <= instrument.due_on;
}

/** Return the conditions as their fields hold them, and what is wrong with them by name. */
export function readConditions(asks, typed) {
  const conditions = {};
  const faults = {};
  for (const ask of asks) {
    const text = typed[ask.name];
    if (text === undefined || text === null || String(text).trim() === "") continue;
    if (ask.choices.length) {
      conditions[ask.name] = text;
      continue;
    }
    // A document that an older server sent says no range: this one will say it.
    const { value, fault } = readField(ask.field ?? ask, String(text).trim());
    if (fault === undefined) conditions[ask.name] = value;
    else faults[ask.name] = fault;
  }
  return { conditions, faults };
}

/** Return what is wrong with a typed reading, as words; null when nothing is. */
export function typedFault(store, card, text, unit) {
  try {
    checkReading(procedureOf(store, card), text, unit);
    return null;
  } catch (error) {
    if (error instanceof InputError) return error.faults.map((f) => f.message).join(" ");
    throw error;
  }
}

function procedureOf(store, card) {
  return { name: card.procedure, ...store.doc.procedures[card.procedure] };
}

/**
 * Judge what is typed together with the rest of its group.
 *
 * *typed*: point id -> {text, unit, conditions, instrument_id}. Returns point id ->
 * judgement for the typed points and for those of their groups.
 */
export function judgeTyped(store, card, typed) {
  const held = standing(card);
  const found = new Map();
  for (const group of new Set(card.points.map((point) => point.group))) {
    const members = card.points.filter((point) => point.group === group);
    if (!members.some((point) => typed.has(point.id))) continue;
    const items = [];
    for (const point of members) {
      const reading = typed.get(point.id) ?? held.get(point.id);
      if (reading) items.push(item(store, point, reading, store.clock.now()));
    }
    for (const [id, judgement] of judged(store, items)) found.set(id, judgement);
  }
  return found;
}

/** Judge every group of a card in which a reading waits for the server. */
export function judgeCard(store, card) {
  const held = standing(card);
  for (const group of new Set(card.points.map((point) => point.group))) {
    const members = card.points.filter((p) => p.group === group && held.has(p.id));
    if (!members.some((point) => held.get(point.id).waiting)) continue;
    const items = members.map((point) => {
      const reading = held.get(point.id);
      return item(store, point, reading, reading.taken_at);
    });
    for (const [id, judgement] of judged(store, items)) held.get(id).judgement = judgement;
  }
  for (const reading of card.readings) reading.judgement ??= SUPERSEDED;
}

const SUPERSEDED = { verdict: "unjudged", reason: "Superseded before it was sent.", working: [], cite: [] };

function item(store, point, reading, at) {
  const instrument = store.instruments.get(reading.instrument_id);
  // Without an instrument there is none to be out of calibration: it is asked for instead.
  const calibrated = reading.calibrated ?? (!instrument || inCalibration(instrument, siteDay(at, store.zone)));
  const conditions = { ...point.given, ...reading.conditions };
  const { asks } = store.doc.procedures[store.doc.rules[point.rule_id].procedure];
  const ranges = instrument?.ranges ?? [];
  return {
    point,
    rule: withInstrumentGates(store.doc.rules[point.rule_id]),
    reading: {
      key: point.id,
      text: reading.text,
      unit: reading.unit,
      accuracy: accuracyOf(ranges, reading.unit, conditions),
      conditions: {
        ...conditions,
        instrument_limit: conditions.instrument_limit ?? beyond(ranges, asks, conditions, reading) ?? "none",
        calibration: calibrated ? "in_date" : "lapsed",
      },
    },
  };
}

function judged(store, items) {
  const judgements = judge(
    items.map(({ rule, reading }) => ({ rule, reading })),
    store.doc.procedures,
  );
  return items.map(({ point }, index) => [point.id, judgements[index]]);
}

// Conditions: what the readings are taken under, and with which instrument.

import { overTheRatio } from "./both_bases.js";
import { carriedFrom, carryPart, ownNow } from "./carry_over.js";
import { h } from "./dom.js";
import { instrumentField } from "./instrument_field.js";
import { whyNot } from "./instruments.js";
import { inputMode } from "./keypad.js";
import { readConditions } from "./preview.js";
import { siteDay, siteTime } from "./words.js";

// A residual pressure has no voltage that was held for a time.
const PRESSURE = "magnetron";
const OF_WITHSTAND = ["test_kv", "duration_s"];
const SHORT_CHOICE = 14; // letters: a longer one is cut off in the width of a number
const SET_AT_THE_SOURCE = /^test_/;

/** Return the conditions that the card asks for once: no point gives them, no curve is marked by them. */
export function asksOf(store, card) {
  const { asks: all, series } = store.doc.procedures[card.procedure];
  const asks = all.filter(({ name }) => !series.some(({ marks = [] }) => marks.includes(name)));
  const open = asks.filter((ask) => !card.points.every((point) => ask.name in point.given));
  const chosen = { ...card.defaults, ...card.readings.at(-1)?.conditions, ...store.draft(card.id).conditions };
  const wanted = open.filter((ask) => card.points.some((point) => needs(ask, { ...chosen, ...point.given })));
  return chosen.method === PRESSURE ? wanted.filter((ask) => !OF_WITHSTAND.includes(ask.name)) : wanted;
}

/** Whether a condition is asked for under what is given and chosen; most always are. */
const needs = ({ when = {} }, known) => Object.entries(when).every(([name, value]) => (known[name] ?? value) === value);

/** Return what stands in the entry fields: typed, else as last used here, else wanted. */
export function typedConditions(store, card) {
  const draft = store.draft(card.id);
  const last = card.readings.at(-1)?.conditions ?? {};
  const own = Object.fromEntries(
    asksOf(store, card).filter((ask) => ask.name in last).map((ask) => [ask.name, last[ask.name]]),
  );
  const chosen = asTyped({ ...card.defaults, ...own, ...draft.conditions });
  const rule = ruleOf(store, card);
  const known = { ...asTyped(card.points[0].given), ...chosen };
  return { ...levelOf(rule, known), ...setByRule(rule, known), ...chosen };
}

/** A yes or no of an earlier reading or of the programme, as one types it. */
function asTyped(conditions) {
  const typed = Object.entries(conditions).map(([name, value]) => [name, { true: "yes", false: "no" }[value] ?? value]);
  return Object.fromEntries(typed);
}

const ruleOf = (store, card) => store.doc.rules[card.points[0].rule_id];

/** Whether a part of a rule applies to conditions as they are typed. */
function fits({ when }, typed) {
  const wanted = asTyped(when ?? {});
  return Object.entries(wanted).every(([name, value]) => String(typed[name] ?? "") === String(value));
}

/**
 * The test voltage or current that the rule wants under these conditions; what is found, as a
 * load, is never filled in.
 */
export function setByRule(rule, typed = {}) {
  const asks = (gate) => gate.at_least !== undefined && SET_AT_THE_SOURCE.test(gate.on) && fits(gate, typed);
  return Object.fromEntries(rule.gates.filter(asks).map((gate) => [gate.on, gate.at_least]));
}

function levelOf(rule, typed) {
  const level = rule.bounds.find((bound) => bound.kind === "withstand" && fits(bound, typed));
  return level ? { test_kv: level.level_kv } : {};
}

/** Whether a reading is unjudged without this condition, under those that are typed. */
function isWanted(store, card, { name, required }, typed) {
  const known = { ...asTyped(card.points[0].given), ...typed };
  const asks = ({ on, known: wanted, at_least: least }) => on === name && (wanted || least !== undefined);
  return required || OF_WITHSTAND.includes(name) || ruleOf(store, card).gates.some((gate) => asks(gate) && fits(gate, known));
}

/** Whether the card's test needs no instrument. */
export const isByEye = (store, card) => store.doc.procedures[card.procedure].by_eye === true;

/** Return the instrument chosen on this card, or the only one that can be meant. */
export function chosenInstrument(store, card) {
  if (isByEye(store, card)) return undefined;
  const draft = store.draft(card.id);
  if (draft.instrument_id !== undefined) return store.instruments.get(draft.instrument_id);
  const last = card.readings.at(-1)?.instrument_id;
  if (last) return store.instruments.get(last);
  const { name, procedure, conditions } = asked(store, card);
  const own = store.doc.instruments.filter((one) => !one.retired && one.procedures.includes(name));
  const fits = own.filter((one) => !whyNot(one, name, procedure, conditions));
  return [own, fits].find((found) => found.length === 1)?.[0];
}

/** What an instrument of this card is asked for, as far as it is known. */
function asked(store, card) {
  const procedure = store.doc.procedures[card.procedure];
  const conditions = { ...card.points[0].given, ...typedConditions(store, card) };
  return { name: card.procedure, procedure, conditions };
}

/** Return what a reading of this card is sent with; at a point, less what the point fixes. */
export function conditionsNow(store, card, { given = {} } = {}) {
  const asks = asksOf(store, card).filter((ask) => !(ask.name in given));
  return readConditions(asks, typedConditions(store, card));
}

function instrumentEntry(store, card, changed) {
  return instrumentField(store, card, () => asked(store, card), chosenInstrument(store, card), changed);
}

/** Draw the field for the instrument by itself. */
export function instrumentOf(store, card) {
  return instrumentEntry(store, card, () => undefined).node;
}

/** Draw the strip of conditions; *changed* runs after each keystroke. */
export function conditionsPanel(store, card, changed) {
  const typed = typedConditions(store, card);
  const { faults } = readConditions(asksOf(store, card), typed);
  const instrument = instrumentEntry(store, card, changed);
  const both = (ask) => {
    instrument.refresh();
    changed(ask);
  };
  const fields = asksOf(store, card).map((ask) => askField(store, card, ask, typed, faults, both));
  return h(
    "section",
    { class: "sheet conditions", "aria-label": "Conditions" },
    carryPart(store, card),
    fields,
    !isByEye(store, card) && instrument.node,
  );
}

function askField(store, card, ask, typed, faults, changed) {
  const id = `condition-${ask.name}`;
  const refused = store.faultsAt(card.id, `condition:${ask.name}`);
  const note = h("span", { class: "fault", id: `${id}-fault` });
  const show = (found) => {
    const said = [found, ...refused].filter(Boolean).join(" ");
    note.textContent = said;
    note.hidden = !said;
  };
  show(faults[ask.name]);
  const carried = carriedFrom(store, card, ask.name);
  const keep = (value) => {
    store.draft(card.id).conditions[ask.name] = value;
    ownNow(store, card, ask.name);
    carried?.remove();
    store.clearFaults(card.id, `condition:${ask.name}`);
    store.saveDrafts();
    show(readConditions([ask], { [ask.name]: value }).faults[ask.name]);
    changed(ask);
  };
  const about = {
    id,
    "data-focus": id,
    "aria-describedby": `${id}-fault`,
    oninput: (event) => keep(event.target.value),
  };
  const choices = choicesOf(ask);
  const entry = choices.length
    ? h(
        "select",
        { ...about, value: typed[ask.name] ?? "", onwheel: (event) => event.preventDefault() },
        h("option", { value: "" }, "choose"),
        choices.map((choice) => h("option", { value: choice }, ask.field?.choices?.[choice] ?? choice)),
      )
    : h("input", {
        ...about,
        type: "text",
        inputmode: ask.field?.kind === "text" ? "text" : inputMode(),
        autocomplete: "off",
        value: typed[ask.name] ?? "",
      });
  return h(
    "div",
    { class: longest(ask, choices) > SHORT_CHOICE ? "condition condition-choice" : "condition" },
    h("label", { for: id }, ask.label, isWanted(store, card, ask, typed) ? "" : h("span", { class: "quiet" }, " (if known)")),
    h("div", { class: "with-unit" }, entry, ask.unit && h("span", { class: "unit" }, ask.unit)),
    carried,
    suggestion(store, card, ask, typed, keep),
    overTheRatio(ruleOf(store, card), ask.name, () => String(typedConditions(store, card)[ask.name] ?? ""), (value) => {
      keep(value);
      store.changed();
    }),
    note,
  );
}

const longest = (ask, choices) => Math.max(0, ...choices.map((one) => (ask.field?.choices?.[one] ?? one).length));

const choicesOf = (ask) => (ask.field?.kind === "yes_no" ? ["yes", "no"] : ask.choices);

/** A value used on another card today, to be taken over with one tap, never silently. */
function suggestion(store, card, ask, typed, keep) {
  if (!ask.field?.lasts || (typed[ask.name] ?? "") !== "") return null;
  const today = siteDay(store.clock.now(), store.zone);
  const found = [...store.cards.values()]
    .flatMap((one) => one.readings.filter((reading) => ask.name in reading.conditions))
    .filter((reading) => siteDay(reading.taken_at, store.zone) === today)
    .sort((a, b) => (a.taken_at < b.taken_at ? 1 : -1))[0];
  if (!found) return null;
  const value = found.conditions[ask.name];
  return h(
    "button",
    {
      type: "button",
      class: "button button-quiet suggestion",
      onclick: () => {
        keep(String(value));
        store.changed();
      },
    },
    `still ${value} ${ask.unit}, as at ${siteTime(found.taken_at, store.zone)}`,
  );
}

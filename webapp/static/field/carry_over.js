// What carries over from the last card of the same kind: offered in one tap, and said.

import { asksOf, chosenInstrument, typedConditions } from "./conditions.js";
import { h } from "./dom.js";

const ROOM_MS = 2 * 60 * 60 * 1000; // so long a room's temperature and humidity are offered
const MINUTE_MS = 60 * 1000;

/** Return what a card may take over: [{name, label, value, text, card, at}], none twice. */
export function offered(store, card) {
  const kind = lastReading(store, (one) => one.procedure === card.procedure && one.id !== card.id);
  const found = asksOf(store, card).flatMap((ask) => offerOf(store, card, ask, kind) ?? []);
  const instrument = instrumentOffer(store, card);
  return instrument ? [...found, instrument] : found;
}

/** The person's last instrument for a procedure; undefined where there is none to use. */
export function lastInstrument(store, card) {
  const mine = (one) => one.procedure === card.procedure;
  const found = lastReading(store, mine, (reading) => reading.by === store.me && reading.instrument_id);
  const instrument = found && store.instruments.get(found.reading.instrument_id);
  return instrument && !instrument.retired ? { ...found, instrument } : undefined;
}

function instrumentOffer(store, card) {
  const found = lastInstrument(store, card);
  if (!found || found.card.id === card.id || chosenInstrument(store, card)) return null;
  const { instrument, reading } = found;
  return { name: "instrument", value: instrument.id, text: instrument.tag, card: found.card, at: reading.taken_at };
}

/** The latest reading of the cards that *fits*; {card, reading} or undefined. */
function lastReading(store, fits, reads = () => true) {
  const all = [...store.doc.cards].filter(fits).flatMap(({ id }) => {
    const card = store.card(id);
    return card.readings.filter(reads).map((reading) => ({ card, reading }));
  });
  return all.reduce((a, b) => (!a || Date.parse(b.reading.taken_at) > Date.parse(a.reading.taken_at) ? b : a), undefined);
}

function offerOf(store, card, ask, kind) {
  const { name } = ask;
  if (ask.field?.own || name in store.draft(card.id).conditions) return null;
  const from = ask.field?.lasts ? ofRoom(store, card, name) : kind;
  const value = from?.reading.conditions[name];
  if (value === undefined || value === null) return null;
  const now = typedConditions(store, card)[name] ?? "";
  // What a rule wants stands already; only the same rule's card knows better.
  const sameRule = from.card.points[0].rule_id === card.points[0].rule_id;
  if (String(now) === String(value) || (now !== "" && !sameRule)) return null;
  const said = ask.choices.length ? (ask.field?.choices[value] ?? value) : [value, ask.unit].filter(Boolean).join(" ");
  return [{ name, value: String(value), text: said, card: from.card, at: from.reading.taken_at }];
}

function ofRoom(store, card, name) {
  const since = store.clock.now().valueOf() - ROOM_MS;
  return lastReading(
    store,
    (one) => one.id !== card.id,
    (reading) => name in reading.conditions && Date.parse(reading.taken_at) >= since,
  );
}

/** Draw the offer; null where nothing is to be taken over. */
export function carryPart(store, card) {
  const offers = offered(store, card);
  if (!offers.length) return null;
  return h(
    "div",
    { class: "carry-over" },
    h("p", {}, offerWords(offers, store.clock.now().valueOf())),
    h("button", { type: "button", class: "button", "data-focus": "take-over", onclick: () => takeOver(store, card, offers) }, "Take over"),
  );
}

/** "As on card 7, 20 min ago: 21 °C, 48 %, IR-1": grouped by the card it comes from. */
export function offerWords(offers, nowMs) {
  const cards = [...new Set(offers.map(({ card }) => card))];
  return cards
    .map((card) => {
      const own = offers.filter((one) => one.card === card);
      const latest = Math.max(...own.map(({ at }) => Date.parse(at)));
      return `As on card ${card.position}, ${agoWords(nowMs - latest)}: ${own.map(({ text }) => text).join(", ")}`;
    })
    .join(" · ");
}

function agoWords(ms) {
  const minutes = Math.max(0, Math.round(ms / MINUTE_MS));
  if (minutes < 90) return `${minutes} min ago`;
  const hours = Math.round(minutes / 60);
  return hours < 48 ? `${hours} h ago` : `${Math.round(hours / 24)} days ago`;
}

function takeOver(store, card, offers) {
  const draft = store.draft(card.id);
  draft.carried ??= {};
  for (const { name, value, card: from } of offers) {
    if (name === "instrument") draft.instrument_id = value;
    else draft.conditions[name] = value;
    draft.carried[name] = from.position;
    store.clearFaults(card.id, `condition:${name === "instrument" ? "instrument_id" : name}`);
  }
  store.saveDrafts();
  store.changed();
  requestAnimationFrame(() => document.querySelector('[data-focus^="reading-"]')?.focus());
}

/** A value was changed by hand: it is carried over no more. */
export function ownNow(store, card, name) {
  delete store.draft(card.id).carried?.[name];
}

/** Draw where a value comes from while it stands as it was taken over. */
export function carriedFrom(store, card, name) {
  const from = store.draft(card.id).carried?.[name];
  return from ? h("span", { class: "about", "data-carried": name }, `carried over from card ${from}`) : null;
}

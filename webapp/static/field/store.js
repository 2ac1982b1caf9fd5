// The round on this tablet: the document, what is kept, what is still to be sent.

import { keepBack, readElsewhere } from "./came_back/came_back.js";
import { cardsOf, keepCard, staleNames } from "./kept/beside.js";
import { keepRound } from "./kept/rounds.js";
import { OnSite } from "./on_site.js";
import { ACCEPT, json, Outbox, post } from "./outbox.js";
import { Photos } from "./photos/photos.js";
import { judgeCard, standing } from "./preview.js";
import { leftHere } from "./sending/left.js";
import { tellLeft } from "./sending/tell_left.js";
import { givenBack } from "./series.js";
import { dropGiven, intendedFor } from "./signing/intents.js";

const SOON_MS = 300;
const BY_EYE = "by eye"; // in the place of an instrument's tag

export class Store {
  /**
   * *keep* is open; *held* says when the document was fetched and taken along, where it
   * comes from this tablet. *drawn({quietly})* draws anew; quietly: nobody touched
   * anything, all typed stays.
   */
  constructor({ person, document, held = {}, keep, urls, clock, drawn }) {
    Object.assign(this, { person, doc: document, keep, urls, clock, drawn, safety: null });
    this.elsewhere = 0; // entries that wait here for another person or another round
    this.cleared = []; // what the browser has cleared away (kept/cleared.js)
    this.fetchedAt = document.made_at;
    this.takenAt = held.taken_at ?? null;
    this.drafts = Object.fromEntries(keep.all("draft:"));
    this.kept = new Map(Object.entries(this.drafts).map(([id, draft]) => [id, JSON.stringify(draft)]));
    keep.listen("draft:", (cardId, draft) => this.hearDraft(cardId, draft));
    this.faults = {}; // card id -> place -> [message]
    this.cards = cardsOf(document, keep);
    this.cardsCursor = document.cards_cursor ?? 0; // the number of the log that they are of
    this.cardsHeard = 0; // how often the server has answered with a card
    this.instruments = new Map(document.instruments.map((one) => [one.id, one]));
    this.outbox = new Outbox(
      keep,
      { urls, person, left: () => this.left() },
      clock,
      (entry, result) => this.take(entry, result),
      () => this.changed(),
    );
    this.photos = new Photos(this, () => this.changed({ quietly: true }));
    if (document.safety) this.safety = new OnSite(this, document.safety);
    keep.listen("speaker", () => this.changed());
    for (const kind of ["returned:", "intent:", "back:"]) keep.listen(kind, () => this.changed());
    for (const event of ["online", "offline"]) addEventListener(event, () => this.changed({ quietly: true }));
    dropGiven(this);
    const { entries, intents } = this.left();
    if (entries + intents > this.outbox.entries.length) tellLeft(this); // what goes in no envelope
    this.outbox.send();
  }

  /** What this tablet holds unsent of this round. */
  left() {
    return leftHere(this);
  }

  /** Something is other than it was: what is shown is drawn anew. */
  changed(how) {
    this.safety?.forget();
    this.drawn(how);
  }

  get zone() {
    return this.doc.site.zone;
  }

  get me() {
    return this.doc.person.name;
  }

  /** Whether the server answered when it was asked last. */
  get hasSignal() {
    return navigator.onLine !== false && this.outbox.state !== "no-signal" && !this.safety?.news?.failed;
  }

  /** Whether this person may still record here. */
  get mayRecord() {
    const records = ["technician", "lead"].includes(this.doc.person.role);
    return this.doc.round.state === "open" && records;
  }

  draft(cardId) {
    this.drafts[cardId] ??= {};
    const draft = this.drafts[cardId];
    draft.conditions ??= {};
    draft.rows ??= {};
    return draft;
  }

  /** Keep the drafts that changed: what another page types on other cards stays. */
  saveDrafts() {
    for (const [cardId, draft] of Object.entries(this.drafts)) {
      const text = JSON.stringify(draft);
      if (this.kept.get(cardId) === text) continue;
      this.keep.write(`draft:${cardId}`, draft);
      this.kept.set(cardId, text);
    }
  }

  /** Another page of this round has typed on a card. */
  hearDraft(cardId, draft) {
    this.drafts[cardId] = draft ?? {};
    this.kept.set(cardId, JSON.stringify(this.drafts[cardId]));
    this.changed();
  }

  faultsAt(cardId, place) {
    return this.faults[cardId]?.[place] ?? [];
  }

  clearFaults(cardId, place) {
    if (place === undefined) delete this.faults[cardId];
    else if (this.faults[cardId]) delete this.faults[cardId][place];
  }

  addFault(cardId, place, message) {
    this.faults[cardId] ??= {};
    (this.faults[cardId][place] ??= []).push(message);
  }

  /** Keep an entry, to be sent as soon as there is signal. */
  record(...entries) {
    const kept = this.outbox.add(...entries.map((entry) => this.withHeard(entry)));
    this.changed();
    return kept;
  }

  /** A reading or an act says what this tablet had heard of others by then. */
  withHeard(entry) {
    if (!this.safety || !["reading", "safety"].includes(entry.kind)) return entry;
    return { heard_at: this.safety.cursor, ...entry };
  }

  /** The card as it stands on this tablet: the server's, and what is in the outbox. */
  card(cardId) {
    const card = this.cards.get(cardId);
    const waiting = this.outbox.of(cardId);
    return waiting.length ? withWaiting(this, card, waiting) : card;
  }

  /** Take a card as the server answers it, with the rules that it names; it is held as well. */
  setCard({ rules, ...card }) {
    Object.assign(this.doc.rules, rules);
    card.attachments ??= this.cards.get(card.id)?.attachments; // an answer does not name them
    this.cards.set(card.id, card);
    this.cardsHeard += 1;
    keepCard(this.keep, { rules, ...card });
    dropGiven(this);
  }

  /**
   * Take the cards that others changed; true where there are any. *asked*: `cardsHeard` when
   * they were asked for. What was answered since then is newer: they come once more.
   */
  hearCards({ cards = [], cards_cursor: cursor, renew }, asked) {
    if (asked !== this.cardsHeard || cursor === undefined) return false;
    for (const card of cards) {
      keepTyped(this, card);
      this.setCard(card);
    }
    this.cardsCursor = cursor;
    if (renew) this.refresh();
    return cards.length > 0;
  }

  take(entry, result) {
    if (entry.kind === "safety") {
      this.safety?.take(entry, result);
      return;
    }
    if (result.card) this.setCard(result.card);
    if (result.status !== "stored" && result.status !== "known") {
      this.giveBack(entry, result);
    }
  }

  /** The server refused it: what was typed goes back to where it was typed. */
  giveBack(entry, result) {
    if (keepBack(this, entry, result)) {
      if (!readElsewhere(this, entry)) this.refreshSoon(); // what stands in its way is to be seen
      return;
    }
    const draft = this.draft(entry.card_id);
    if (entry.kind === "reading") {
      const { procedure } = this.cards.get(entry.card_id) ?? {};
      const series = procedure ? givenBack(this.doc.procedures[procedure], entry.conditions) : {};
      const row = { text: entry.text, unit: entry.unit, series, marks: entry.conditions };
      if (entry.supersedes) row.again = { of: entry.supersedes, reason: entry.reason };
      draft.rows[entry.point_id] = { ...row, ...draft.rows[entry.point_id] };
    } else if (entry.kind === "note") draft.note = entry.text;
    else if (entry.kind === "deficiency") draft.deficiency = { ...entry, open: true };
    else if (entry.kind === "close_deficiency") draft.closing = { ...entry };
    for (const fault of result.faults) {
      this.addFault(entry.card_id, placeOf(entry, fault.field), fault.message);
    }
    this.saveDrafts();
  }

  /**
   * Sign cards; the password goes straight to the server and is kept nowhere. Where other
   * readings hold there than were in front of the signer here, the server refuses.
   */
  async sign(cardIds, password) {
    const seen = cardIds.map((id) => [id, [...standing(this.card(id)).values()].map((reading) => reading.id)]);
    const answer = await post(this.urls, this.urls.signatures, {
      card_ids: cardIds,
      password,
      seen: Object.fromEntries(seen),
      intents: intendedFor(this, cardIds),
    });
    for (const card of answer.cards) this.setCard(card);
    this.changed();
  }

  /** Fetch once for all that came back in one go. */
  refreshSoon() {
    clearTimeout(this.fetching);
    this.fetching = setTimeout(() => this.refresh(), SOON_MS);
  }

  /** Fetch what others have recorded meanwhile; without signal all stays as it is. */
  async refresh() {
    const old = this.keep.all("card:");
    const document = await fetchRound(this.urls, this.clock).catch(() => null);
    if (!document || document.person.id !== this.person.id) return;
    this.doc = document;
    this.cardsCursor = document.cards_cursor ?? this.cardsCursor;
    this.fetchedAt = document.made_at;
    if (document.safety) this.safety?.renew(document.safety);
    this.cards = cardsOf(document, this.keep, old);
    this.instruments = new Map(document.instruments.map((one) => [one.id, one]));
    dropGiven(this);
    this.changed({ quietly: true });
    await holdDocument(this.person, document, this.keep, old);
  }
}

/** Where somebody else read a point first, what is typed there stays, as a second reading. */
function keepTyped(store, card) {
  const rows = store.drafts[card.id]?.rows ?? {};
  const known = standing(store.cards.get(card.id) ?? { readings: [] });
  for (const [pointId, reading] of standing(card)) {
    const row = rows[pointId];
    if (!row?.text || row.again || known.has(pointId)) continue;
    row.again = { of: reading.id, reason: "" };
  }
  store.saveDrafts();
}

/** Hold a document on this tablet; what it says itself is kept beside it no more. */
export async function holdDocument(person, document, keep, old) {
  if (!(await keepRound(person, document))) return;
  for (const name of staleNames(document, keep, old)) keep.drop(name);
}

/** Fetch the document of a round; the clock is set by it. */
export async function fetchRound(urls, clock) {
  const sentMs = Date.now();
  const document = await json(await fetch(urls.document, { headers: ACCEPT }));
  clock.hear(document.safety?.now ?? document.made_at, sentMs);
  return document;
}

const ROWS = ["timed", "steps", "leakage", "held_leakage", "excitation", "fall", "gas_log", "tan_delta", "coil_record", "travel"];
const OF_ROW = new Set(["text", "unit", "reason", "supersedes", "point_id", ...ROWS]);

function placeOf(entry, field) {
  if (entry.kind === "reading") {
    if (OF_ROW.has(field) || !field) return `row:${entry.point_id}`;
    return ["preconditions", "safety", "inspections"].includes(field) ? "card" : `condition:${field}`;
  }
  if (entry.kind === "confirm") return `code:${entry.code}`;
  return entry.kind;
}

function withWaiting(store, card, waiting) {
  const shown = structuredClone(card);
  for (const entry of waiting) {
    const who = { by: store.me, at: entry.at, waiting: true };
    if (entry.kind === "confirm") {
      shown.confirmed.push({ code: entry.code, state: entry.state, reason: entry.reason, ...who });
    } else if (entry.kind === "note") {
      shown.notes.push({ text: entry.text, ...who });
    } else if (entry.kind === "reading") {
      addWaitingReading(shown, entry, who, store);
    } else if (entry.kind === "deficiency") {
      shown.deficiencies.push({
        ...entry,
        id: entry.key,
        number: "new",
        state: "open",
        raised_by: store.me,
        raised_at: entry.at,
        waiting: true,
      });
    } else if (entry.kind === "close_deficiency") {
      const found = shown.deficiencies.find((one) => one.id === entry.deficiency_id);
      if (found) Object.assign(found, { state: "closed", closing_text: entry.text });
    }
  }
  if (shown.state === "not_begun") shown.state = "begun";
  judgeCard(store, shown);
  return shown;
}

function addWaitingReading(shown, entry, who, store) {
  for (const reading of shown.readings) {
    if (reading.id === entry.supersedes) reading.superseded_by = entry.key;
  }
  const point = shown.points.find((one) => one.id === entry.point_id);
  shown.readings.push({
    id: entry.key,
    point_id: entry.point_id,
    text: entry.text,
    unit: entry.unit,
    conditions: { ...point.given, ...entry.conditions },
    instrument_id: entry.instrument_id,
    instrument: entry.instrument_id ? store.instruments.get(entry.instrument_id)?.tag : BY_EYE,
    taken_at: entry.at,
    supersedes: entry.supersedes ?? null,
    superseded_by: null,
    reason: entry.reason ?? null,
    judgement: null,
    disposition: null,
    ...who,
  });
}

/**
 * The lines as they were last given, and how they lapse.
 *
 * A line counts while it is the latest of its kind and no event that touches it came
 * after it. An event at the very moment of a line leaves it alone.
 */

import { personKey, speaker, speakerKey } from "./people.js";
import { milliseconds } from "./times.js";

const STATES = { confirmed: "given", not_applicable: "not_applicable" };

/** A line as it was given, and what it lapsed by; *at* in milliseconds. */
class Given {
  constructor(act) {
    this.code = act.code;
    this.item = act.item ?? null;
    this.by = speaker(act).name;
    this.byKey = speakerKey(act);
    this.at = milliseconds(act.at);
    this.state = STATES[act.state] ?? "overridden";
    this.noted = act.noted ?? {};
    this.reason = act.reason ?? null;
    this.lapsedBy = null;
    this.lapsedAt = null;
  }

  /** Whether nothing that it rests on changed after it. */
  get counts() {
    return this.lapsedAt === null;
  }

  /** Lapse by a change word; return whether it counted until now. */
  lapse(word, at) {
    if (this.lapsedAt !== null || at <= this.at) return false;
    this.lapsedBy = word;
    this.lapsedAt = at;
    return true;
  }
}

/** The line that an act of kind line or override gives. */
export const givenBy = (act) => new Given(act);

/** The latest line of each kind, by scope and what the scope is of. */
export class Lines {
  constructor(book) {
    this.book = book;
    this.given = new Map(); // scope and of -> code, item, person -> Given
    this.asides = new Map(); // scope and of -> code -> Given
  }

  /** Take the line of an act in the place of the one before it. */
  give(act) {
    const given = givenBy(act);
    const person = this.book[given.code]?.each.includes("person") ? given.byKey : null;
    placeOf(this.given, act.scope, act.of).set(lineKey(given.code, given.item, person), { given, person });
    return given;
  }

  /** Take an override: it counts for every item of its line until it lapses. */
  setAside(act) {
    placeOf(this.asides, act.scope, act.of).set(act.code, givenBy(act));
  }

  /** The line that stands for this place: given, or set aside; null for none. */
  find(scope, of, code, item = null, person = null) {
    const line = this.given.get(key(scope, of))?.get(lineKey(code, item, person))?.given ?? null;
    const aside = this.aside(scope, of, code);
    if (!aside?.counts) return line ?? aside;
    return line?.counts && line.at >= aside.at ? line : aside;
  }

  /** Whether the line of this place was given and did not lapse. */
  counts(scope, of, code, item = null, person = null) {
    return this.find(scope, of, code, item, person)?.counts ?? false;
  }

  /** The override of a line or condition that was given last. */
  aside(scope, of, code) {
    return this.asides.get(key(scope, of))?.get(code) ?? null;
  }

  /** All lines of a place, the ones set aside as well. */
  *of(scope, of) {
    for (const { given } of this.given.get(key(scope, of))?.values() ?? []) yield given;
    yield* this.asides.get(key(scope, of))?.values() ?? [];
  }

  /** The lines of one code that each person gives, in order of time. */
  people(scope, of, code) {
    const lines = [...(this.given.get(key(scope, of))?.values() ?? [])];
    const found = lines.filter(({ given, person }) => given.code === code && person).map(({ given }) => given);
    return found.sort((a, b) => a.at - b.at);
  }

  /** Lapse the lines that a change touches: by their word, and by its item. */
  lapse(scope, of, word, at, item = null) {
    for (const given of this.of(scope, of)) {
      const touched = item === null || given.item === null || given.item === item;
      if (touched && this.restsOn(given.code, word)) given.lapse(word, at);
    }
  }

  /** Lapse every line of a place; what set a condition aside stays. */
  lapseAll(scope, of, word, at) {
    for (const given of this.of(scope, of)) {
      if (given.code in this.book) given.lapse(word, at);
    }
  }

  restsOn(code, word) {
    return this.book[code]?.lapses.includes(word) ?? false;
  }

  /** What lines of this scope were given for. */
  places(scope) {
    const found = [...this.given.keys()].map((one) => one.split("\n"));
    return found.filter(([one]) => one === scope).map(([, of]) => of);
  }
}

const key = (scope, of) => `${scope}\n${of}`;

const lineKey = (code, item, person) => `${code}\n${item ?? ""}\n${person ?? ""}`;

function placeOf(places, scope, of) {
  const name = key(scope, of);
  if (!places.has(name)) places.set(name, new Map());
  return places.get(name);
}

/** The key of the person that a line names in one of its fields. */
export const personNoted = (given, field) => (given ? personKey(given.noted[field]) : null);

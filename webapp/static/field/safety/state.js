/**
 * What the acts up to a moment have made of a site.
 *
 * Plain values that the fold changes in order of time; `stands` of crew, isolation and
 * cell is kept up at each act, everything else is worked out when it is asked for.
 */

import { Lines } from "./given.js";
import { Places } from "./places.js";

/** Whether a scope stands, since when and by whom; what it lapsed by. */
class Held {
  stands = false;
  stood = false; // whether it ever stood
  since = null;
  by = null;
  cause = null;
  causeAt = null;
  ended = null;

  stand(at, by) {
    Object.assign(this, { stands: true, stood: true, since: at, by, cause: null, causeAt: null });
  }

  /** Let it stand no more, by a change word. */
  fall(word, at) {
    Object.assign(this, { stands: false, cause: word, causeAt: at });
  }
}

/** A shift of people; *people*: key -> {key, name, since, left}. */
export class Crew extends Held {
  people = new Map();

  constructor(id, lineups, plannedEnd, opened) {
    super();
    Object.assign(this, { id, lineups, plannedEnd, opened });
  }
}

/** A clearance on a lineup or a section; *walkDue*: when locks and grounds became due to be walked to. */
export class Isolation extends Held {
  walkDue = null;
  returned = [];
  returningSince = null;
  returningCells = null; // null: the whole

  constructor(id, lineup, section, clearance, opened) {
    super();
    Object.assign(this, { id, lineup, section, clearance, opened });
  }
}

/** A cell for its holder; *inside* from entering to leaving. */
export class Point extends Held {
  holder = "";
  holderKey = "";
  crew = "";
  isolation = null;
  entered = null;
  inside = false;

  constructor(cell) {
    super();
    this.cell = cell;
  }
}

/** What was done on a card. */
class Card {
  readings = 0;
  lastReading = null;
  lastActivity = null;
  choice = null; // of the latest reading
  madeSafe = null; // first line of after since the latest reading
  dcOff = null;
  dcS = 0;
  lastDischarge = null; // P03a given before the latest reading
}

/** An item of a register as it was last written. */
export class Item {
  constructor(item, fields, by, at, back = null) {
    Object.assign(this, { item, fields, by, at, back });
  }

  get gone() {
    return Boolean(this.fields.gone);
  }
}

const NO_LISTS = { by: null, lists: {}, rests_on: [], waits: [] };

/** Everything that stands on a site at one moment. */
export class State {
  constructor(book, cells) {
    this.book = book;
    this.places = new Places(book.lineups, cells);
    this.lines = new Lines(book.lines);
    this.crews = new Map();
    this.isolations = new Map();
    this.points = new Map();
    this.cards = new Map();
    this.registers = new Map(); // register and of -> item -> Item
    this.suspensions = []; // {code, card, cell, grounds, until, since}
    this.stops = new Map();
    this.worked = new Map(); // by cell: last entry or line of a test
    this.atWork = new Map(); // by person: the card with lines of theirs
    this.foundGood = {}; // by card: its insulation
    this.ownOfCrew = ofEachPerson(book, "crew");
    this.ownOfIsolation = ofEachPerson(book, "isolation");
  }

  /** What was done on a card, nothing at first. */
  card(card) {
    if (!this.cards.has(card)) this.cards.set(card, new Card());
    return this.cards.get(card);
  }

  /** All items that were ever on a register, by their ids. */
  items(register, of) {
    return this.registers.get(`${register}\n${of}`) ?? new Map();
  }

  /** The items of a register that are not gone. */
  register(register, of) {
    return [...this.items(register, of).values()].filter((item) => !item.gone);
  }

  write(register, of, item) {
    const name = `${register}\n${of}`;
    if (!this.registers.has(name)) this.registers.set(name, new Map());
    this.registers.get(name).set(item.item, item);
  }

  /** The cells under a clearance that were not handed back. */
  covered({ lineup, section, returned }) {
    return this.places.section(lineup, section).filter((cell) => !returned.includes(cell));
  }

  /** The lists of a card; a card the book does not know has none. */
  lists(card) {
    return this.book.cards[card] ?? NO_LISTS;
  }
}

/** The codes of a scope that each person gives. */
function ofEachPerson(book, scope) {
  return book[scope].filter((code) => book.lines[code].each.includes("person"));
}

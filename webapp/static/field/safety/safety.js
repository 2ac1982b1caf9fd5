/**
 * What stands on a site, worked out from the acts: models/record/safety in JavaScript.
 *
 * tests/data/safety_scenes.json holds both to one answer.
 */

import { cardJson } from "./card_standing.js";
import { check } from "./check.js";
import { events, take } from "./fold.js";
import { siteJson } from "./site_standing.js";
import { State } from "./state.js";
import { milliseconds } from "./times.js";

export class Safety {
  /**
   * The acts of a site with the readings of its cards: shapes of models/record/shapes/safety.py.
   *
   * *readings*: by card [{at, by, choice}], those that were superseded included; *signed*:
   * when a card was signed, null while it is not; *cells*: the cell of each card;
   * *foundGood*: by insulation card, when it became good or stopped to be, [{at, good}].
   */
  constructor(book, acts, readings, signed, cells, foundGood = {}) {
    Object.assign(this, { book, cells, taken: 0 });
    this.events = events(book, acts, readings, signed, foundGood);
    this.state = new State(book, cells);
  }

  /** What stands on the site (shape SiteStanding). */
  site(at) {
    return siteJson(this.stateAt(milliseconds(at)));
  }

  /** What stands for a card (shape CardStanding); *person*: the key of who records. */
  card(card, person, at, choice = null) {
    const ms = milliseconds(at);
    return cardJson(this.stateAt(ms), { card, person, at: ms, choice });
  }

  /**
   * What is wrong with an act that is not among these yet; empty: take it.
   *
   * Each fault is {field, code, facts}; *lead*: who says it has the role lead.
   */
  check(act, at, { lead = false } = {}) {
    const ms = milliseconds(at);
    return check(this.stateAt(ms), act, ms, lead);
  }

  /** The state at a moment; later moments go on from earlier ones. */
  stateAt(ms) {
    if (this.taken && this.events[this.taken - 1].at > ms) {
      this.state = new State(this.book, this.cells);
      this.taken = 0;
    }
    while (this.taken < this.events.length && this.events[this.taken].at <= ms) {
      take(this.state, this.events[this.taken]);
      this.taken += 1;
    }
    return this.state;
  }
}

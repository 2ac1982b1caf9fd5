// Safety on a card: the wider scopes as one line each, the lines of the test, those after.

import { h } from "../dom.js";
import { afterLines } from "./after_lines.js";
import { cardCautions, entryWords } from "./card_cautions.js";
import { closedNotice, stopNotice } from "./closed_notice.js";
import { earlierList } from "./earlier_list.js";
import { givenLines } from "./given_lines.js";
import { isOpen } from "./line_list.js";
import { testLines, wideStand } from "./test_lines.js";
import { insulationFirst } from "./waits.js";
import { wideScopes } from "./wide_scopes.js";

/** Return the safety of a card; null where the tablet holds its round without. */
export function safetyOf(store, card, ui) {
  return store.safety?.book.cards[card.id] ? new CardSafety(store, card, ui) : null;
}

/** The codes of the lines after the test that are still to be given. */
export function openAfter(store, card) {
  if (!card.readings.length || wasListed(card) || !store.safety?.book.cards[card.id]) return [];
  return store.safety.card(card.id).after.lines.filter(isOpen).map(({ code }) => code);
}

/** Whether all of a card's earlier list was answered: nothing comes after its test then. */
function wasListed(card) {
  const answered = new Set(card.confirmed.map(({ code }) => code));
  return card.preconditions.length > 0 && card.preconditions.every((code) => answered.has(code));
}

class CardSafety {
  constructor(store, card, ui) {
    Object.assign(this, { store, card, ui });
    this.standing = store.safety.card(card.id);
    this.ended = ["signed", "withdrawn"].includes(card.state);
  }

  get open() {
    return this.standing.open;
  }

  /** Whose rules govern, a stop, and the wider scopes; on a signed card they are past. */
  head() {
    const { store, card, ui, standing } = this;
    const governs = h("p", { class: "disclaimer" }, store.safety.book.governs);
    if (this.ended) return [stopNotice(store), governs, earlierList(store, card, ui)];
    return [
      stopNotice(store),
      h("div", { class: "card-safety" }, wideScopes(store, card, standing), cardCautions(store, card), governs),
      earlierList(store, card, ui),
    ];
  }

  /** Whether only what follows a test can be given now: a stop, or a wider scope that lapsed. */
  get onlyAfter() {
    return !this.open && !wideStand(this.standing) && this.standing.after.state !== "none" && !wasListed(this.card);
  }

  /** The card is closed: why, what makes it safe, and the lines to give. *begun*: it was open before. */
  closed(begun) {
    const { store, card, ui, standing } = this;
    return [
      closedNotice(store, standing, begun),
      insulationFirst(store, card, ui, standing),
      this.onlyAfter && afterLines(store, card, ui, standing, true),
      testLines(store, card, ui, standing, begun),
    ];
  }

  /** The lines before the first reading, given: one line that opens. */
  before() {
    return givenLines(this.store, this.card, this.ui, "test", this.open);
  }

  /** What is said at the fields of the readings while one may type there. */
  entry() {
    return this.open && entryWords(this.store, this.card);
  }

  /** The part after the test; *read*: nothing is left to read; *closed*: drawn with what closes it. */
  after(read, closed) {
    if (this.ended) return givenLines(this.store, this.card, this.ui, "after");
    if (wasListed(this.card)) return null;
    return !(closed && this.onlyAfter) && afterLines(this.store, this.card, this.ui, this.standing, read);
  }
}

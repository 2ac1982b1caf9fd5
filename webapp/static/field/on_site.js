/**
 * `store.safety`: what stands of safety, on this tablet; null where a round has none.
 *
 * It holds the acts that the server has said (the document's, then the news of every
 * 1.5 s) and those that wait in the outbox: an act counts here from the moment it is
 * recorded. All times are the server's, as `clock.js` corrects this tablet's.
 *
 * - `book`, `acts` (heard and waiting, in the order of their times), `cursor`
 * - `now()`: milliseconds. `card(cardId, choice)`: CardStanding for whoever is signed in
 *   (the one whom a reading is recorded by); *choice* stands else as the card's own
 *   condition is typed. `site()`: SiteStanding. `standing`: the `Safety`, for other times.
 * - `check(act)`: [{field, code, facts, message}]; *act* is its own members only, such as
 *   {act: "line", scope, of, code, item, state, reason, noted}. `record(act)`: the same
 *   faults, or [] and the act is kept in the outbox and counts.
 * - `speaker` {id, name}: who says what is recorded now; `speaks(person)`: another of
 *   the crew takes the tablet (null: whoever is signed in).
 * - `tablets`: [{device, by, heard, seq}] of the site as the server last said; [] else.
 * - `lastHeard` (ms), `heardWords()`, `unheardWords()`, `clockWords()`: sentences or null.
 * - `returned`: [{key, act, at, messages}], acts that the server refused, as they were
 *   typed; `dismiss(key)`. Those of a line are at `store.faultsAt(of, "safety:CODE")` too,
 *   and what was noted is in `store.draft(of).noted["CODE"]` or `["CODE:item"]`.
 */

import { chosenBy } from "./choice.js";
import { ofCards } from "./cards_of_site.js";
import { heardBeside, keepHeard } from "./kept/beside.js";
import { deviceName } from "./kept/tablet.js";
import { News } from "./news.js";
import { inOrder } from "./safety/acts.js";
import { personKey } from "./safety/people.js";
import { Safety } from "./safety/safety.js";
import { refusalWords } from "./safety/words.js";
import { counted, siteTime } from "./words.js";

const LOOK_AGAIN_MS = 2000; // a shift ends and a call lapses by time alone
const SILENT_MS = 20000; // without an answer this long, how old the news are is said
const DAY_MS = 24 * 60 * 60 * 1000;

export class OnSite {
  constructor(store, { book, acts, cursor }) {
    Object.assign(this, { store, book, cursor, drawn: "", tablets: [] });
    this.heard = new Map();
    this.add(acts);
    this.addBeside();
    this.device = deviceName();
    this.lastHeard = Date.parse(store.fetchedAt);
    this.me = { id: store.doc.person.id, name: store.doc.person.name };
    this.forget();
    this.news = store.urls.news && new News(
      () => this.address(),
      (answer, sentMs) => this.hear(answer, sentMs),
      () => store.changed({ quietly: true }),
    );
    setInterval(() => this.lookAgain(), LOOK_AGAIN_MS);
  }

  address() {
    this.cardsAsked = this.store.cardsHeard;
    const asked = { safety: this.cursor, cards: this.store.cardsCursor, device: this.device };
    return `${this.store.urls.news}?${new URLSearchParams(asked)}`;
  }

  now() {
    return this.store.clock.now();
  }

  moment() {
    return new Date(this.now()).toISOString();
  }

  get acts() {
    const waiting = this.store.outbox.held.filter(isAct).map((entry) => this.actOf(entry));
    return inOrder([...this.heard.values(), ...waiting.filter(({ id }) => !this.heard.has(id))]);
  }

  /** The state of everything, made anew after each change. */
  get standing() {
    this.made ??= new Safety(this.book, this.acts, ...ofCards(this.store, this.me.id));
    return this.made;
  }

  card(cardId, choice = chosenBy(this.store, cardId)) {
    const made = this.standing.card(cardId, this.me.id, this.moment(), choice);
    this.asked.set(cardId, [choice, said(made)]);
    return made;
  }

  site() {
    return this.standing.site(this.moment());
  }

  check(members) {
    const at = this.moment();
    const act = this.actOf({ ...this.entryOf(members), key: "", at });
    const lead = !act.person && this.store.doc.person.role === "lead";
    const faults = this.standing.check(act, at, { lead });
    return faults.map((fault) => ({ ...fault, message: refusalWords(this.store, fault) }));
  }

  record(members) {
    const faults = this.check(members);
    if (!faults.length) this.store.record(this.entryOf(members));
    return faults;
  }

  get speaker() {
    return this.store.keep.read("speaker") ?? this.me;
  }

  speaks(person) {
    if (person && personKey(person) !== this.me.id) this.store.keep.write("speaker", person);
    else this.store.keep.drop("speaker");
    this.store.changed();
  }

  /** What is sent of an act; who is signed in is known to the server. */
  entryOf(members) {
    const { person = this.speaker, ...own } = members;
    const another = personKey(person) === this.me.id ? {} : { person };
    return { kind: "safety", ...another, ...own };
  }

  /** A waiting entry as an act. */
  actOf({ kind: _, key, heard_at: __, ...members }) {
    return { id: key, arrived_at: null, device: this.device, by: this.me, ...members };
  }

  /** Take in what is newer on the server. */
  hear({ acts, cursor, now, tablets = [], ...cards }, sentMs) {
    this.store.clock.hear(now, sentMs);
    this.lastHeard = this.now();
    this.cursor = Math.max(this.cursor, cursor);
    this.tablets = tablets;
    const unknown = acts.filter((act) => !this.heard.has(act.id));
    this.add(acts);
    keepHeard(this.store.keep, unknown, this.cursor);
    const newCards = this.store.hearCards(cards, this.cardsAsked);
    if (unknown.length || newCards) this.store.changed({ quietly: true });
    else this.lookAgain();
  }

  add(acts) {
    for (const act of acts) {
      this.heard.set(act.id, act);
      this.store.clock.heard(Date.parse(act.at));
    }
  }

  /** A document held on this tablet is older than what was heard since. */
  addBeside() {
    const { acts, cursor } = heardBeside(this.store.keep);
    this.add(acts);
    this.cursor = Math.max(this.cursor, cursor);
  }

  /** The document was fetched anew; an act that was heard since stays known. */
  renew({ book, acts, cursor }) {
    this.book = book;
    this.add(acts);
    this.cursor = Math.max(this.cursor, cursor);
    this.forget();
  }

  /** The server has answered for an act of this tablet, whichever page sent it. */
  take(entry, { status, faults = [], act }) {
    if (status === "stored" || status === "known") {
      const arrived = { ...this.actOf(entry), arrived_at: this.moment() };
      if (!this.heard.has(entry.key)) this.heard.set(entry.key, act ?? arrived);
      keepHeard(this.store.keep, [this.heard.get(entry.key)], 0);
    } else this.giveBack(entry, faults);
    this.forget();
  }

  giveBack(entry, faults) {
    const { kind: _, key, at, heard_at: __, ...act } = entry;
    const messages = faults.map(({ message }) => message);
    this.store.keep.write(`returned:${key}`, { key, act, at, messages });
    if (act.act !== "line") return;
    const draft = this.store.draft(act.of);
    const place = act.item ? `${act.code}:${act.item}` : act.code;
    draft.noted = { [place]: act.noted, ...draft.noted };
    for (const message of messages) this.store.addFault(act.of, `safety:${act.code}`, message);
    this.store.saveDrafts();
  }

  get returned() {
    return [...this.store.keep.all("returned:").values()].filter(Boolean);
  }

  dismiss(key) {
    this.store.keep.drop(`returned:${key}`);
    this.store.changed();
  }

  heardWords() {
    if (this.now() - this.lastHeard < SILENT_MS) return null;
    return `Others last heard ${siteTime(this.lastHeard, this.store.zone).replace(" today", "")}`;
  }

  unheardWords() {
    const waits = this.store.outbox.entries.some((entry) => isAct(entry) && entry.act === "stop");
    if (!waits) return null;
    const since = this.now() - DAY_MS;
    const recent = [...this.heard.values()].filter(({ at }) => Date.parse(at) > since);
    const others = new Set(recent.map(({ device }) => device).filter((device) => device !== this.device));
    return `Not yet heard by ${others.size ? counted(others.size, "other tablet") : "anybody else"}`;
  }

  clockWords() {
    return this.store.clock.words();
  }

  /** Something has changed: what stands is worked out when it is asked for next. */
  forget() {
    this.made = null;
    this.asked = new Map();
    this.drawn = "";
  }

  /** Which tablets have asked for news since a stop: said on its face while it is in force. */
  heardBy(stop) {
    const since = stop ? Date.parse(stop.at) : Infinity;
    return this.tablets.filter(({ heard }) => Date.parse(heard) >= since).map(({ device }) => device);
  }

  /** Draw again where something lapsed by time, or where the news have grown old. */
  lookAgain() {
    if (!this.made) return;
    const asked = [...this.asked];
    const site = this.site();
    const shown = said([site, this.heardBy(site.stop), this.heardWords(), this.clockWords()]);
    const lapsed = asked.some(([id, [choice, before]]) => said(this.standing.card(id, this.me.id, this.moment(), choice)) !== before);
    if (lapsed || (this.drawn && this.drawn !== shown)) this.store.changed({ quietly: true });
    else this.drawn = shown;
  }
}

const isAct = (entry) => entry.kind === "safety";

const said = (standing) => JSON.stringify(standing);

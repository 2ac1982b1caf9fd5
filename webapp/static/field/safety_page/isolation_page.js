// A clearance on a lineup or a section: sources, grounds, put-back list, who is signed on.

import { h } from "../dom.js";
import { newKey } from "../new_key.js";
import { personKey } from "../safety/people.js";
import { changedPart } from "./change_part.js";
import { consequences } from "./consequences.js";
import { linesGiven, linesInHand } from "./line_list.js";
import { cellsUnder, cellWords, clock, itemName, personOf, sectionWords } from "./names.js";
import { openingForm } from "./opening_form.js";
import { act, backLink, factsOf, govern, sheetHead, stateWord } from "./parts.js";
import { speak } from "./people_part.js";
import { putBackForm } from "./put_back_form.js";
import { registerPart } from "./register_part.js";
import { asked, clearancesHere, crewHere, ownLines, sharedLines, standing } from "./scopes.js";

/** Draw one clearance; without its id the only one, else the form that takes one. */
export function isolationPage(store, ui, id) {
  const all = clearancesHere(store);
  const isolation = all.find(({ of }) => of === id) ?? (id ? null : all[0]);
  if (!isolation || id === "new") return takeClearance(store, ui, all);
  return [
    head(store, isolation),
    isolation.state === "filling" && govern(store),
    inHand(store, ui, isolation),
    registerPart(store, ui, isolation, "source"),
    registerPart(store, ui, isolation, "ground", (ground) => groundDeeds(store, ui, isolation, ground)),
    registerPart(store, ui, isolation, "put_back", (entry) => putBackForm(store, ui, isolation, entry)),
    isolation.state !== "filling" && signedOn(store, ui, isolation),
    isolation.state !== "filling" && changedPart(store, ui, aboutOf(store, isolation)),
    givingBack(store, isolation),
  ];
}

function head(store, isolation) {
  const { book } = store.safety;
  const holder = isolation.holder ? `held by ${isolation.holder}` : "nobody holds it yet";
  const returned = isolation.returned_cells.length ? `handed back: ${cellWords(book, isolation.returned_cells)}` : null;
  return sheetHead(`Clearance ${isolation.clearance}`, stateWord(store, isolation), [sectionWords(book, isolation), holder, returned], backLink());
}

/** What the clearance itself asks first; once that stands, signing on by who speaks. */
function inHand(store, ui, isolation) {
  const shared = inOrderOfWork(sharedLines(store.safety.book, isolation), isolation);
  const own = ownOf(store, isolation);
  const lines = asked(shared).length ? shared : own;
  return [
    isolation.state === "lapsed" && h("p", { class: "notice notice-fault" }, "Its cells are closed until what changed is given again, the list is walked, and each cell is entered again."),
    linesInHand(store, ui, isolation, {
      scope: "isolation",
      of: isolation.of,
      lines,
      who: lines === own ? store.safety.speaker : undefined,
      isolation: isolation.of,
    }),
    standing(shared).length > 0 && h("section", { class: "sheet sheet-fold" }, linesGiven(store, ui, isolation, shared, isolation.of)),
  ];
}

const LAST = "G07a"; // a lock goes on what is open, or grounded, already

/** The lines of a source or a ground follow each other, as the hand goes from one to the next. */
function inOrderOfWork(lines, { sources, grounds }) {
  const items = [...sources, ...grounds].map(({ item }) => item);
  const ofItem = lines.filter(({ item }) => items.includes(item));
  const begins = lines.indexOf(ofItem[0]);
  const sorted = items.flatMap((item) => {
    const own = ofItem.filter((line) => line.item === item);
    return [...own.filter(({ code }) => code !== LAST), ...own.filter(({ code }) => code === LAST)];
  });
  const rest = lines.filter((line) => !ofItem.includes(line));
  const first = rest.filter((line) => lines.indexOf(line) < begins || begins < 0);
  const grounded = sorted.filter(({ item }) => grounds.some((one) => one.item === item));
  const isolated = sorted.filter((line) => !grounded.includes(line));
  return [...first, ...isolated, ...rest.filter((line) => !first.includes(line)), ...grounded];
}

function ownOf(store, isolation) {
  const { book, speaker } = store.safety;
  return ownLines(book, book.isolation, isolation, personKey(speaker));
}

/** A ground is taken off for good here; "off for a card" is said on the card. */
function groundDeeds(store, ui, isolation, ground) {
  const name = `off:${ground.item}`;
  const turn = (open) => () => {
    ui.takingOff = open ? ground.item : null;
    ui.focus = name;
    store.changed();
  };
  const ask = h("button", { type: "button", class: "button", "data-focus": name, onclick: turn(true) }, "Taken off for good");
  return ui.takingOff === ground.item ? [takeOff(store, ui, isolation, ground, name, turn(false))] : [ask];
}

/** What taking it off closes is said before it is recorded. */
function takeOff(store, ui, isolation, ground, name, close) {
  const returning = isolation.returning.state !== "none";
  const gone = { act: "list", register: "ground", of: isolation.of, item: ground.item, fields: { ...ground.fields, gone: true } };
  const off = () => {
    ui.takingOff = null;
    if (!returning) act(store, ui, { act: "change", what: "ground", of: isolation.of, item: ground.item, cause: "taken off" });
    act(store, ui, gone);
  };
  const closes = returning || isolation.state === "filling" ? ["It counts as off from now on."] : consequences(store, withoutItems(store, aboutOf(store, isolation)), "ground");
  return h(
    "div",
    { class: "notice notice-care take-off", role: "status", tabindex: -1, "data-focus": name },
    closes.map((one) => h("p", {}, one)),
    h(
      "div",
      { class: "actions" },
      h("button", { type: "button", class: "button button-main", onclick: off }, `${itemName(store, "ground", ground)} is off`),
      h("button", { type: "button", class: "button button-quiet", onclick: close }, "It stays on"),
    ),
  );
}

/** What is off the register is asked nothing again: the lines that hold once remain. */
function withoutItems(store, about) {
  return { ...about, codes: about.codes.filter((code) => !store.safety.book.lines[code]?.each.length) };
}

/** What a change of a clearance touches. */
function aboutOf(store, isolation) {
  const { book } = store.safety;
  const cells = cellsUnder(book, isolation).map((cell) => cell.id);
  return { of: isolation.of, codes: book.isolation, lines: isolation.lines, cells, scope: "isolation", registers: isolation };
}

function signedOn(store, ui, isolation) {
  const on = isolation.people.filter(({ left }) => !left);
  return h(
    "section",
    { class: "sheet", "aria-labelledby": "signed-on-title" },
    h("h2", { id: "signed-on-title" }, `Signed on to this clearance: ${on.length}`),
    h("ul", { class: "plain" }, isolation.people.map((one) => h("li", {}, h("strong", {}, one.name), ` · ${one.since ? clock(one.since, store.zone) : ""}${one.left ? ` to ${clock(one.left, store.zone)}` : ""}`))),
    toSignOn(store, ui, isolation),
  );
}

/** Those of the crew who are not signed on yet: each says it, on this tablet too. */
function toSignOn(store, ui, isolation) {
  const { speaker } = store.safety;
  const on = new Set(isolation.people.filter(({ left }) => !left).map(({ key }) => key));
  const people = (crewHere(store)?.people ?? []).filter((one) => !one.left && !on.has(one.key) && one.key !== personKey(speaker));
  if (!people.length) return null;
  const button = ({ key, name }) => h("button", { type: "button", class: "button", onclick: () => speak(store, ui, personOf(store, key)) }, `${name} signs on`);
  return h("div", { class: "actions" }, people.map(button));
}

function givingBack(store, isolation) {
  return h(
    "section",
    { class: "sheet notice-row" },
    h("p", {}, "Work on it, or on some of its cells, is over: what was put back is counted, everybody is off the gear, then it goes back."),
    h("a", { class: "button", href: `#/safety/return/${isolation.of}` }, isolation.returning.state === "none" ? "Hand it back" : "Go on handing it back"),
  );
}

function takeClearance(store, ui, all) {
  return [
    sheetHead("Clearance", null, [all.length ? "One more clearance, on another section or lineup." : "No clearance is open on this lineup."], backLink()),
    govern(store),
    openingForm(store, ui, {
      name: "isolation",
      title: "Take a clearance",
      said: "For the whole lineup, or for one bus section. The same number may stand on two sections: each has its own list.",
      button: "Take the clearance",
      fields: ["clearance", "lineup"],
      open: ({ clearance, lineup, section }) => {
        const isolation = newKey();
        const kept = act(store, ui, { act: "open_isolation", isolation, lineup, section, clearance });
        if (kept) location.hash = `#/safety/isolation/${isolation}`;
        return kept;
      },
    }),
  ];
}

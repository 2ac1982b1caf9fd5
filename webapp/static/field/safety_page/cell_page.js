// One cell for its holder: enter it, prove it, leave it, enter it again.

import { h } from "../dom.js";
import { personKey } from "../safety/people.js";
import { counted } from "../words.js";
import { cellsStrip } from "./cells_strip.js";
import { changedPart } from "./change_part.js";
import { linesGiven, linesInHand } from "./line_list.js";
import { cellOf, cellOfSite, cellWords, clock } from "./names.js";
import { act, backLink, govern, sheetHead, stateWord } from "./parts.js";
import { reasonWords } from "../safety/words.js";
import { asked, cardName, cardsIn, clearancesHere, crewHere } from "./scopes.js";

/** Draw a cell's page. */
export function cellPage(store, ui, id) {
  const { book } = store.safety;
  const cell = cellOf(book, id);
  if (!cell) return [sheetHead("Point of work", null, ["There is no such cell on this site."], backLink())];
  const point = store.safety.site().points[id] ?? null;
  const here = { cell, point, isolation: coverOf(store, cell), crew: crewHere(store) };
  return [
    head(store, here),
    cellsStrip(store, id),
    isIn(point) ? linesOf(store, ui, here) : entering(store, ui, here),
    isIn(point) && inside(store, ui, here),
    isIn(point) && changedPart(store, ui, { of: id, codes: book.point[id] ?? [], lines: point.lines, cells: [id], scope: "point" }),
    cardsHere(store, here),
  ];
}

/** Whether somebody is in the cell: its lines can be given. */
const isIn = (point) => Boolean(point?.inside);

function coverOf(store, cell) {
  return (
    clearancesHere(store).find(
      (one) => one.lineup === cell.lineup && (one.section === null || one.section === cell.bus) && !one.returned_cells.includes(cell.id),
    ) ?? null
  );
}

function head(store, { cell, point, isolation }) {
  const details = [
    point?.holder && `held by ${point.holder}`,
    point?.entered && `entered ${clock(point.entered, store.zone)}`,
    isolation ? `under clearance ${isolation.clearance}` : "under no clearance",
  ];
  const elevation = h("a", { class: "button", href: `#/cells/${cell.id}` }, "Its cards");
  return sheetHead(`${cellOfSite(store, cell.id)} · ${cell.name}`, point && stateWord(store, point), details, elevation, backLink());
}

/** Before anybody is in: what is missing for it, else the one button. */
function entering(store, ui, here) {
  const { cell, point, isolation, crew } = here;
  const wants = missing(store, here);
  const lines = (store.safety.book.point[cell.id] ?? []).length;
  const again = point && point.state === "lapsed" ? asked(point.lines).length : lines;
  return h(
    "section",
    { class: "sheet", "aria-labelledby": "enter-title" },
    h("h2", { id: "enter-title" }, `Before hands go into cell ${cell.number}`),
    govern(store),
    wants
      ? h("div", { class: "notice notice-row" }, h("p", {}, wants.said), h("a", { class: "button", href: wants.href }, wants.link))
      : enterForm(store, ui, here, again),
    !lines && !wants && h("p", { class: "quiet" }, "No line is asked at this cell."),
    isolation && crew && null,
  );
}

function missing(store, { cell, isolation, crew }) {
  if (!crew || crew.state === "filling") return { said: "No crew stands: who is in charge and who works with you comes first.", href: "#/safety/crew", link: "Crew" };
  if (!crew.lineups.includes(cell.lineup)) return { said: `The crew does not work on ${store.safety.book.lineups[cell.lineup].name} yet.`, href: "#/safety", link: "Crew" };
  if (crew.state === "lapsed") return { said: "The crew has lapsed: the second person has to be named again.", href: "#/safety/crew", link: "Crew" };
  if (!isolation) return { said: "No clearance covers this cell.", href: "#/safety/isolation/new", link: "Take a clearance" };
  const href = `#/safety/isolation/${isolation.of}`;
  if (isolation.state !== "stands") return { said: `Clearance ${isolation.clearance}: ${counted(asked(isolation.lines).length, "line is", "lines are")} open.`, href, link: "Isolation" };
  return null;
}

/** Enter; whoever holds another cell says who stays there, or that it is left. */
function enterForm(store, ui, { cell, isolation, crew }, lines) {
  const held = heldCells(store, cell.id);
  ui.stays ??= {};
  const enter = (event) => {
    event.preventDefault();
    const named = Object.entries(ui.stays).map(([id, name]) => [id, name.trim()]);
    const stays = Object.fromEntries(named.filter(([id, name]) => name && held.includes(id)));
    if (act(store, ui, { act: "enter", cell: cell.id, isolation: isolation.of, crew: crew.of, stays })) {
      ui.stays = {};
      ui.focus = "line-in-hand";
    }
  };
  return h(
    "form",
    { onsubmit: enter, class: "enter-form" },
    h("p", {}, `${store.safety.speaker.name} enters it and answers ${counted(lines, "line")}.`),
    held.map((id) => stayField(store, ui, id)),
    h("button", { type: "submit", class: "button button-main", "data-focus": "enter" }, `Enter cell ${cell.number}`),
  );
}

function stayField(store, ui, id) {
  const name = `stays-${id}`;
  const words = cellWords(store.safety.book, [id]);
  return h(
    "div",
    { class: "field" },
    h("label", { for: name }, `You hold ${words}. Somebody stays there: who (blank: it is left, and asked again)`),
    h("input", { id: name, "data-focus": name, autocomplete: "off", value: ui.stays[id] ?? "", oninput: (event) => (ui.stays[id] = event.target.value) }),
  );
}

/** The other cells that who speaks holds at this moment. */
function heldCells(store, but) {
  const { speaker } = store.safety;
  const { points } = store.safety.site();
  const mine = ([id, point]) => id !== but && isIn(point) && [speaker.name, personKey(speaker)].includes(point.holder);
  return Object.entries(points).filter(mine).map(([id]) => id);
}

function linesOf(store, ui, { cell, point, isolation }) {
  const borrows = store.safety.book.lineups[cell.lineup].gear.includes("gas");
  const borrowed = (line) => (borrows && line.code === "G13e" ? h("p", { class: "small quiet" }, "This cell may borrow its ground: choose the ground, and name the path and the cell that lends it.") : null);
  return [
    linesInHand(store, ui, point, {
      scope: "point",
      of: cell.id,
      lines: point.lines,
      isolation: isolation?.of,
      beside: borrowed,
      override: (line) => (line.code === "G13e" ? "No ground can be had: set aside by two names" : null),
    }),
    h("section", { class: "sheet sheet-fold" }, linesGiven(store, ui, point, point.lines, cell.id)),
  ];
}

function inside(store, ui, { cell, point }) {
  const leave = () => act(store, ui, { act: "leave", cell: cell.id });
  return h(
    "section",
    { class: "sheet notice-row" },
    h("p", {}, `${point.holder} holds this cell. Left, its cards close for entry; on entering again only what lapsed is asked.`),
    h("button", { type: "button", class: "button", "data-focus": "leave", onclick: leave }, `Leave cell ${cell.number}`),
  );
}

function cardsHere(store, { cell }) {
  const cards = cardsIn(store, [cell.id], "point");
  if (!cards.length) return null;
  return h(
    "section",
    { class: "sheet", "aria-labelledby": "cards-title" },
    h("h2", { id: "cards-title" }, counted(cards.length, "card here", "cards here")),
    h("ul", { class: "lines" }, cards.map((card) => h("li", { class: "card-row" }, h("a", { href: `#/cards/${card.id}` }, cardName(card)), h("span", { class: "quiet" }, cardState(store, card))))),
  );
}

/** Whether readings can be entered on a card, or what keeps it closed. */
function cardState(store, { id, state }) {
  if (state === "signed") return "signed";
  const { open, reasons } = store.safety.card(id);
  return open ? "open for readings" : reasonWords(store, reasons[0]);
}

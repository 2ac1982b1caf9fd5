// The crew of a shift: who is in charge, what was briefed, who is signed in.

import { personKey } from "../safety/people.js";
import { h } from "../dom.js";
import { newKey } from "../new_key.js";
import { counted } from "../words.js";
import { changedPart } from "./change_part.js";
import { linesGiven, linesInHand } from "./line_list.js";
import { cellsOf, clock, listed, personOf } from "./names.js";
import { openingForm } from "./opening_form.js";
import { peoplePart, speak } from "./people_part.js";
import { registerPart } from "./register_part.js";
import { act, backLink, factsOf, govern, sheetHead, stateWord } from "./parts.js";
import { asked, crewHere, live, ownLines, sharedLines, standing } from "./scopes.js";

/** Draw the crew's page: the line in hand first, then people, registers, what to do. */
export function crewPage(store, ui, id) {
  const crew = live(store.safety.site().crews).find(({ of }) => of === id) ?? crewHere(store);
  if (!crew || id === "new") return takeCharge(store, ui, crew);
  const lines = neededLines(store, crew);
  return [
    head(store, crew),
    crew.state === "filling" && govern(store),
    linesInHand(store, ui, crew, { scope: "crew", of: crew.of, ...lines }) ?? nextToSpeak(store, ui, crew),
    peoplePart(store, ui, crew),
    stated(store, ui, crew),
    registerPart(store, ui, crew, "set"),
    registerPart(store, ui, crew, "place"),
    crew.state !== "filling" && changedPart(store, ui, { of: crew.of, codes: store.safety.book.crew, lines: crew.lines, registers: crew, cells: cellsOfCrew(store, crew), scope: "crew" }),
    doing(store, ui, crew),
  ];
}

/** Shared lines until they stand, then the own lines of who speaks. */
function neededLines(store, crew) {
  const { book, speaker } = store.safety;
  const shared = sharedLines(book, crew);
  if (asked(shared).length) return { lines: shared };
  return { lines: ownLines(book, book.crew, crew, personKey(speaker)), who: speaker };
}

/** One is done and another has lines of their own: the tablet goes to them. */
function nextToSpeak(store, ui, crew) {
  const { book } = store.safety;
  const next = crew.people.find((one) => !one.left && asked(ownLines(book, book.crew, crew, one.key)).length);
  if (!next) return null;
  const person = personOf(store, next.key);
  const open = asked(ownLines(book, book.crew, crew, next.key)).length;
  return h(
    "section",
    { class: "sheet notice-row" },
    h("p", { class: "line-text" }, h("strong", {}, next.name), ` has ${counted(open, "line")} of their own.`),
    h("button", { type: "button", class: "button button-main", "data-focus": "line-in-hand", onclick: () => speak(store, ui, person) }, `${next.name} takes the tablet`),
  );
}

function head(store, crew) {
  const end = crew.planned_end ? `planned end ${clock(crew.planned_end, store.zone)}` : null;
  const names = crew.lineups.map((id) => store.safety.book.lineups[id]?.name).filter(Boolean);
  return sheetHead("Crew", stateWord(store, crew), [names.length && `works on ${listed(names)}`, end], backLink());
}

/** Every cell of the lineups that the crew works on. */
function cellsOfCrew(store, { lineups }) {
  return lineups.flatMap((id) => cellsOf(store.safety.book, id).map((cell) => cell.id));
}

function stated(store, ui, crew) {
  if (!standing(crew.lines).length) return null;
  return h("section", { class: "sheet" }, h("h2", {}, "What the crew stated"), factsOf(crewFacts(store, crew)), linesGiven(store, ui, crew, crew.lines, crew.of));
}

function crewFacts(store, crew) {
  return [
    ["In charge", crew.in_charge ?? "nobody yet"],
    ["May release a stop", crew.releasers.length ? listed(crew.releasers) : "nobody named yet"],
  ];
}

function takeCharge(store, ui, crew) {
  const { settings } = store.safety.book;
  const hours = `It ends by itself after ${settings.shift_hours} h.`;
  return [
    sheetHead("Crew", null, [crew ? "A crew is there already: this opens a second one." : "No crew is open."], backLink()),
    govern(store),
    openingForm(store, ui, {
      name: "crew",
      title: "Take charge of this shift",
      said: `Whoever takes charge answers the shared lines; then each person signs in with their own four. ${hours}`,
      button: "Take charge of this shift",
      fields: ["end", "lineups"],
      open: ({ planned_end, lineups }) => open(store, ui, planned_end, lineups),
    }),
  ];
}

function open(store, ui, planned_end, lineups) {
  const crew = newKey();
  const kept = act(store, ui, { act: "open_crew", crew, lineups, planned_end });
  if (kept) location.hash = `#/safety/crew/${crew}`;
  return kept;
}

/** What is done with a crew that is there: one thing at a time unfolds. */
function doing(store, ui, crew) {
  return h(
    "section",
    { class: "sheet safety-doing" },
    h("h2", {}, "The shift"),
    ui.briefingAgain && lineAgain(store, ui, crew, "G03a", "briefingAgain"),
    ui.handingOver && lineAgain(store, ui, crew, "G01a", "handingOver"),
    ui.extending && extendForm(store, ui, crew),
    h(
      "div",
      { class: "actions" },
      crew.state !== "filling" && toggle(store, ui, "briefingAgain", "Briefing held again"),
      crew.state !== "filling" && toggle(store, ui, "handingOver", "Charge changes hands"),
      toggle(store, ui, "extending", "Work on a further lineup"),
      crew.state !== "filling" && h("a", { class: "button", href: "#/safety/crew/new" }, "Open a second crew"),
      endShift(store, ui, crew),
    ),
    h("p", { class: "small quiet" }, "Ending the shift closes its cards for entry; making safe can still be recorded."),
  );
}

function toggle(store, ui, name, words) {
  const flip = () => {
    ui[name] = !ui[name];
    ui.focus = ui[name] ? "line-in-hand" : name;
    store.changed();
  };
  return h("button", { type: "button", class: "button", "data-focus": name, "aria-expanded": String(Boolean(ui[name])), onclick: flip }, words);
}

/** The briefing held again, or charge handed over, is its line given again. */
function lineAgain(store, ui, crew, code, name) {
  const line = crew.lines.find((one) => one.code === code);
  if (!line) return null;
  const done = () => (ui[name] = false);
  return linesInHand(store, ui, crew, { scope: "crew", of: crew.of, lines: [{ ...line, state: "open" }], done });
}

function extendForm(store, ui, crew) {
  return openingForm(store, ui, {
    name: "extend",
    title: "Work on a further lineup",
    said: "Its shock and arc-flash distances are asked for then.",
    button: "Work there too",
    fields: ["lineups"],
    without: crew.lineups,
    open: ({ lineups }) => {
      ui.extending = false;
      ui.focus = "line-in-hand";
      return act(store, ui, { act: "extend_crew", crew: crew.of, lineups });
    },
  });
}

function endShift(store, ui, crew) {
  const inside = Object.values(store.safety.site().points).filter((point) => point.crew === crew.of && point.state === "stands");
  const words = inside.length ? `End the shift: ${counted(inside.length, "cell is", "cells are")} left` : "End the shift";
  return h("button", { type: "button", class: "button button-danger", onclick: () => act(store, ui, { act: "end_crew", crew: crew.of }) }, words);
}

// The round's safety, three sheets from wide to near: crew, isolation, point of work.

import { h } from "../dom.js";
import { counted } from "../words.js";
import { cellsStrip } from "./cells_strip.js";
import { lapsesPart } from "./lapses.js";
import { cellsOf, cellsUnder, clock, itemName, listed, sectionWords } from "./names.js";
import { act, govern, sheetHead, stateWord } from "./parts.js";
import { asked, clearancesHere, crewHere, live, worksHere } from "./scopes.js";

/** Draw the three sheets; each says what stands and what is to be done next. */
export function overview(store) {
  return [
    sheetHead("Safety of this round", null, ["Confirmed once where it holds; each card asks only for its own."], h("a", { class: "button", href: "#/" }, "‹ Elevation")),
    h("p", { class: "on-paper" }, h("a", { href: `/turnover/rounds/${store.doc.round.id}/safety-sheet.pdf` }, "Safety sheet on paper")),
    lapsesPart(store),
    crewSheet(store),
    isolationSheet(store),
    pointSheet(store),
    govern(store),
    h("p", { class: "disclaimer" }, "This page records what people state. It makes nothing safe and warns nobody."),
  ];
}

function sheet(name, title, state, body, action, aside) {
  return h(
    "section",
    { class: "sheet scope-sheet", "aria-labelledby": `${name}-title` },
    h("div", { class: "list-head" }, h("h2", { id: `${name}-title` }, title), state, aside),
    body,
    action && h("div", { class: "actions scope-actions" }, action),
  );
}

function way(href, words, main) {
  return h("a", { class: main ? "button button-main" : "button", href }, words);
}

function crewSheet(store) {
  const crew = crewHere(store);
  if (!crew) {
    const said = h("p", { class: "quiet" }, "No crew is open. Whoever takes charge holds the briefing, and everybody signs in.");
    return sheet("crew", "Crew", null, said, way("#/safety/crew", "Take charge of this shift", true));
  }
  const others = live(store.safety.site().crews).filter(({ of }) => of !== crew.of);
  const body = [
    h("p", {}, crew.in_charge ? [h("strong", {}, crew.in_charge), " in charge"] : "Nobody has taken charge yet", crew.planned_end && ` · planned end ${clock(crew.planned_end, store.zone)}`),
    peopleWords(store, crew),
    crew.releasers.length > 0 && h("p", { class: "detail" }, `May release a stop: ${listed(crew.releasers)}`),
    others.length > 0 && h("p", { class: "detail" }, "Also on this site: ", others.map((one, n) => [n > 0 && ", ", h("a", { href: `#/safety/crew/${one.of}` }, `crew of ${one.in_charge ?? "nobody yet"}`)])),
  ];
  const open = asked(crew.lines).length;
  if (!worksHere(store, crew)) return crewElsewhere(store, crew, body);
  return sheet("crew", "Crew", stateWord(store, crew), body, open ? way("#/safety/crew", `Go on: ${counted(open, "line")} open`, true) : way("#/safety/crew", "People and shift"));
}

/** A crew of another lineup of the site: nothing rests on it here before it takes this one in. */
function crewElsewhere(store, crew, body) {
  const { name } = store.doc.lineup;
  const where = listed(crew.lineups.map((id) => store.safety.book.lineups[id]?.name).filter(Boolean));
  const said = h("p", { class: "notice notice-care" }, `This crew works on ${where}. Taken in, ${name} is asked for its own approach and arc-flash distances.`);
  const extend = () => act(store, {}, { act: "extend_crew", crew: crew.of, lineups: [store.doc.lineup.id] }) && (location.hash = `#/safety/crew/${crew.of}`);
  const actions = [
    h("button", { type: "button", class: "button button-main", onclick: extend }, `Work on ${name} too`),
    way("#/safety/crew/new", "Open a second crew"),
  ];
  return sheet("crew", "Crew", null, [said, body], actions);
}

function peopleWords(store, { people }) {
  if (!people.length) return null;
  const word = ({ name, since, left }) => `${name} ${left ? `until ${clock(left, store.zone)}` : since ? clock(since, store.zone) : "(lines open)"}`;
  return h("p", {}, people.map(word).join(" · "));
}

function isolationSheet(store) {
  const all = clearancesHere(store);
  if (!all.length) {
    const said = h("p", { class: "quiet" }, "No clearance is open. Its holder lists sources, locks and grounds once; each cell rests on it.");
    return sheet("isolation", "Isolation", null, said, way("#/safety/isolation/new", "Take a clearance", standsHere(store)));
  }
  return sheet("isolation", all.length > 1 ? `Isolation: ${all.length} clearances` : "Isolation", null, all.map((one) => clearance(store, one)), null, way("#/safety/isolation/new", "One more clearance"));
}

function standsHere(store) {
  const crew = crewHere(store);
  return crew?.state === "stands" && worksHere(store, crew);
}

function clearance(store, one) {
  const { book } = store.safety;
  const open = asked(one.lines).length;
  return h(
    "div",
    { class: "clearance" },
    h("div", { class: "list-head" }, h("h3", {}, `Clearance ${one.clearance} · ${sectionWords(book, one)}`), stateWord(store, one)),
    h("p", { class: "detail" }, [one.holder && `held by ${one.holder}`, counted(cellsUnder(book, one).length, "cell"), signedOnWords(one)].filter(Boolean).join(" · ")),
    sourcesTable(store, one),
    groundsWords(store, one),
    putBackWords(one),
    h(
      "div",
      { class: "actions" },
      way(`#/safety/isolation/${one.of}`, open ? `Go on: ${counted(open, "line")} open` : "Registers and changes", open > 0),
      one.state !== "filling" && way(`#/safety/return/${one.of}`, one.returning.state === "filling" ? "Go on handing back" : "Hand back"),
    ),
  );
}

function signedOnWords({ people }) {
  const on = people.filter(({ left }) => !left).map(({ name }) => name);
  return on.length ? `signed on: ${listed(on)}` : "nobody has signed on";
}

/** The isolating points in rows: where, how it was seen, which lock and tag. */
function sourcesTable(store, { sources, lines }) {
  const there = sources.filter(({ fields }) => !fields.gone);
  if (!there.length) return null;
  const noted = (item, code) => lines.find((line) => line.item === item && line.code === code);
  return h(
    "table",
    { class: "grid-table dense" },
    h("caption", { class: "out-of-sight" }, "Isolating points"),
    h("thead", {}, h("tr", {}, ["Isolating point", "Seen", "Lock, tag, key"].map((name) => h("th", { scope: "col" }, name)))),
    h("tbody", {}, there.map((one) => h("tr", {}, h("th", { scope: "row" }, itemName(store, "source", one)), h("td", {}, lineCell(store, noted(one.item, "G06b"))), h("td", { class: "figures" }, lineCell(store, noted(one.item, "G07a")))))),
  );
}

function lineCell(store, line) {
  if (!line || line.state === "open") return "not yet";
  if (line.state === "lapsed") return h("span", { class: "word-outside" }, "lapsed");
  const said = Object.values(line.noted ?? {}).filter((value) => typeof value !== "object").map((value) => String(value).replaceAll("_", " "));
  return said.join(" · ") || `yes, ${clock(line.at, store.zone)}`;
}

function groundsWords(store, { grounds }) {
  if (!grounds.length) return h("p", {}, h("strong", {}, "Grounds: "), "none on the register");
  const word = (one) => `${itemName(store, "ground", one)}${one.fields.gone ? " (off)" : one.off_for ? " (off for a card)" : ""}`;
  return h("p", {}, h("strong", {}, "Grounds: "), grounds.map(word).join(" · "));
}

function putBackWords({ put_back: entries }) {
  const open = entries.filter(({ back, fields }) => !back && !fields.gone).length;
  if (!entries.length) return null;
  return h("p", {}, h("strong", {}, "Put-back list: "), open ? `${open} of ${counted(entries.length, "entry", "entries")} still to be put back` : `${counted(entries.length, "entry", "entries")}, all put back`);
}

function pointSheet(store) {
  const { points } = store.safety.site();
  const entered = cellsOf(store.safety.book, store.doc.lineup.id).some(({ id }) => points[id] && points[id].state !== "none");
  const said = h("p", { class: "quiet" }, entered ? "Choose a cell to enter it, to see what it asks, or to leave it." : "Nobody is in a cell. Choose one: its holder proves it dead and grounds it before hands go in.");
  return sheet("point", "Point of work", null, [cellsStrip(store), said], null);
}

// The field application: one round document in, entries with their own keys out.

import "../theme.js";
import { aroundCard } from "./around_card.js";
import { cardView } from "./card_view.js";
import { h, passwordIn, putPassword, replace, typeAgain, typedIn } from "./dom.js";
import { handOff } from "./hand.js";
import { homeView } from "./home_view.js";
import { clearedWords } from "./kept/cleared.js";
import { CANNOT_KEEP, unopenedWords } from "./kept/keep.js";
import { guardLeaving } from "./leaving.js";
import { photosWords } from "./photos/photos.js";
import { safetyPage } from "./safety_page/page.js";
import { scanView } from "./scan/scan_view.js";
import { wirePage } from "./wire_choice.js";
import { ownPage } from "./shell/own_page.js";
import { drawMasthead } from "./shell/masthead.js";
import { CSRF, roundHere, urlsOf } from "./shell/urls.js";
import { announceVersion, guardVersion } from "./shell/version.js";
import { holdProgram, withoutWorkerWords } from "./shell/worker.js";
import { lapseWords } from "./safety_page/lapses.js";
import { drawStopBar } from "./safety_page/stop_bar.js";
import { asideWords, backWords, unsentWords } from "./sending/words.js";
import { tabletPage } from "./sending/tablet_page.js";
import { counted, siteTime } from "./words.js";
import { openField, openStore } from "./start.js";

const root = document.getElementById("app");
const signal = document.getElementById("signal");
const where = document.getElementById("where");
const block = document.getElementById("titleblock");
const SHEETS = { safety: "Safety", scan: "Labels", tablet: "On this tablet", wire: "Wire" };
const uis = new Map();
let store = null;
let drawnFor = "";
let quietly = true; // whether nobody has touched anything since the last drawing

/** What a view remembers while the page is open: what is unfolded, where one is. */
function uiOf(name) {
  if (!uis.has(name)) uis.set(name, { why: new Map(), active: null, focus: null });
  return uis.get(name);
}

function route() {
  const [, kind, id, part] = location.hash.split("/");
  return { kind: kind ?? "", id: id ?? "", part: part ?? "" };
}

function draw() {
  if (!store) return;
  const { kind, id, part } = route();
  const ui = uiOf(kind === "safety" ? kind : `${kind}/${id}`);
  const closed = ui.opened === false;
  const card = kind === "cards" && store.cards.has(id) ? store.card(id) : null;
  const view = viewOf({ kind, id, part, card }, ui);
  const typed = quietly ? typedIn(root) : [];
  const here = drawnFor === `${kind}/${id}/${part}`;
  const password = here ? passwordIn(root) : "";
  replace(root, notices(), view);
  typeAgain(root, typed);
  putPassword(root, password);
  quietly = true;
  // Rows are judged before they are on the page; what is beside them is set here.
  if (card) ui.points?.judge();
  drawFrame(card);
  aroundCard(store, card);
  // A card that has just opened begins at its head.
  if (closed && ui.opened) drawnFor = "closed";
  moveFocus(ui, `${kind}/${id}/${part}`);
}

/** The page that an address asks for: a card, the round's safety, else the elevation. */
function viewOf({ kind, id, part, card }, ui) {
  if (kind === "safety") return safetyPage(store, ui, id, part);
  if (kind === "tablet") return tabletPage(store.person, store);
  if (kind === "scan") return scanView(store, ui);
  if (kind === "wire") return wirePage(store);
  return card ? cardView(store, card, ui) : homeView(store, kind === "cells" ? id : "", ui);
}

function notices() {
  const atHome = route().kind ? null : withoutWorkerWords();
  const kept = [unopenedWords(store.keep), ...store.cleared.map(clearedWords)];
  const said = [store.safety?.clockWords(), ...kept, atHome].filter(Boolean);
  return said.map((words) => h("div", { class: "notice notice-care", role: "status" }, h("p", {}, words)));
}

/** After a new page the focus is on its title; after an act it goes where it is wanted. */
function moveFocus(ui, name) {
  if (ui.show) {
    document.getElementById(ui.show)?.scrollIntoView({ block: "center" });
    ui.show = null;
  }
  const target = ui.focus && document.querySelector(`[data-focus="${ui.focus}"]`);
  ui.focus = null;
  if (target) {
    target.focus({ preventScroll: true });
    target.scrollIntoView({ block: "nearest" });
  } else if (drawnFor && drawnFor !== name) {
    const chosen = document.getElementById("cell-title");
    if (chosen) chosen.scrollIntoView({ block: "nearest" });
    else scrollTo(0, 0);
    (chosen ?? root.querySelector("h1"))?.focus({ preventScroll: true });
  }
  drawnFor = name;
}

function drawFrame(card) {
  const { site, lineup, round } = store.doc;
  document.title = `${lineup.name} · ${round.title} · Witnessmark`;
  const cell = card && store.doc.cells.find((one) => one.id === card.cell_id);
  where.textContent = card
    ? `${lineup.name} · Cell ${cell.number} · ${card.apparatus.label}`
    : `${site.name} · Lineup ${lineup.name}`;
  drawSignal();
  drawStopBar(store, document.getElementById("stop-bar"), uiOf("stop"));
  sayOnce(document.getElementById("safety-said"), lapseWords(store));
  const pairs = [
    ["Site", site.name],
    ["Lineup", `${lineup.name} · ${lineup.rated_kv} kV`],
    ["Round", round.title],
    ["Sheet", card ? `${card.position} of ${store.doc.cards.length}` : (SHEETS[route().kind] ?? "Elevation")],
    ["Rev", String(round.revision)],
    ["By", store.me],
    ["At", siteTime(store.clock.now(), store.zone).replace(" today", "")],
  ];
  replace(
    block,
    h("dl", { class: "titleblock" }, pairs.map(([name, value]) => h("div", {}, h("dt", {}, name), h("dd", {}, value)))),
  );
}

/** A screen reader says what is new, not what was drawn again. */
function sayOnce(place, words) {
  if (place.textContent !== words) place.textContent = words;
}

function drawSignal() {
  const { entries, state } = store.outbox;
  const waiting = entries.length;
  const words = unsentWords(store) || withoutSignal(idleWords());
  signal.className = `signal signal-${waiting ? state : "idle"}`;
  const target = encodeURIComponent(location.pathname + location.hash);
  replace(signal, state === "sign-in" && waiting ? h("a", { href: `/account/sign-in?next=${target}` }, words) : h("span", {}, words));
  for (const [said, href] of [[asideWords(store), "#/tablet"], [backWords(store), "#/"]]) {
    if (said) signal.append(h("span", {}, "\u00a0· ", h("a", { href }, said)));
  }
  const heard = store.safety?.heardWords();
  if (heard) signal.append(h("span", {}, `\u00a0· ${heard}`));
  if (store.keep.broken) {
    signal.className = "signal signal-fault";
    signal.append(h("span", {}, `\u00a0· ${CANNOT_KEEP}`));
  }
  drawLeaving(waiting);
}

/** What is so without signal says so first. */
function withoutSignal(words) {
  return store.hasSignal ? words : `No signal · ${words.charAt(0).toLowerCase()}${words.slice(1)}`;
}

function idleWords() {
  const photographs = photosWords(store.photos.unsent);
  if (photographs) return `Entries are recorded · ${photographs} kept on this tablet`;
  const others = store.elsewhere;
  if (!others) return backWords(store) ? "Everything else is recorded" : "Everything is recorded";
  return `Everything here is recorded · ${others} of another person or round not sent`;
}

/** Beside *Sign out*: what waits is sent only once the same person is here again. */
function drawLeaving(waiting) {
  const place = document.getElementById("leaving-before");
  document.getElementById("leaving")?.remove();
  if (!waiting || !place) return;
  const said = `${counted(waiting, "entry", "entries")} not sent yet: sent only once ${store.me} opens this round here again.`;
  place.append(h("p", { id: "leaving", class: "small" }, said));
}

let waiting = false;

/** Draw at most once for all that changed in one turn. */
function changed(how) {
  quietly &&= Boolean(how?.quietly);
  if (waiting) return;
  waiting = true;
  handOff().then(() => {
    waiting = false;
    draw();
  });
}

async function start() {
  try {
    const person = await openField(root);
    drawMasthead(person);
    const round = roundHere();
    if (!round) return await ownPage(root, person);
    store = await openStore(person, round, urlsOf(round), changed);
    if (!person) drawMasthead(store.doc.person);
  } catch (error) {
    replace(
      root,
      h(
        "div",
        { class: "notice notice-fault", role: "alert" },
        h("p", {}, error.state ? error.message : "The round could not be fetched: there is no signal."),
        h("button", { class: "button", type: "button", onclick: start }, "Try again"),
      ),
    );
    return;
  }
  draw();
}

/** Others work on the same round: look again at the elevation, and on coming back. */
function lookAgain() {
  if (store && !store.outbox.entries.length) store.refresh();
}

addEventListener("hashchange", () => {
  quietly = false;
  draw();
  if (route().kind !== "cards") lookAgain();
});
guardLeaving(CSRF, () => {
  const waiting = store?.outbox.entries.length ?? 0;
  return waiting ? `${counted(waiting, "entry is", "entries are")} kept on this tablet.` : "Nothing is lost by it.";
});
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "visible") lookAgain();
});
guardVersion(async () => !store || store.keep.written());
start().then(holdProgram).then(announceVersion);

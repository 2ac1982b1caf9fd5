// One card: what it rests on, then conditions, points, findings, signature.

import { bottomBar, readBar } from "./bottom_bar.js";
import { cameBackPart } from "./came_back/came_back_part.js";
import { conditionsPanel } from "./conditions.js";
import { h } from "./dom.js";
import { isHeld } from "./draft.js";
import { deficienciesPanel, mayEdit, notesPanel, startDeficiency } from "./findings.js";
import { fromFile, fromRecord } from "./from_record.js";
import { besideLinks } from "./near_cards.js";
import { nextCard } from "./next_card.js";
import { oneQuestion } from "./one_question.js";
import { photoPanel } from "./photos/photo_panel.js";
import { Points } from "./points.js";
import { blankAsks } from "./recording.js";
import { safetyOf } from "./safety_card/card_safety.js";
import { signingPanel } from "./signing.js";
import { tabletChoices } from "./tablet_choices.js";
import { capital, siteTime } from "./words.js";

const INSPECTION_ASKS = {
  hold: "no reading is taken before its release by",
  witness: "invited to the test is",
  review: "before turnover the record is reviewed by",
};

/** Draw the card, as a list of its parts. */
export function cardView(store, card, ui) {
  const safety = safetyOf(store, card, ui);
  return safety ? byScopes(store, card, ui, safety) : toLoadAgain(store, card, ui);
}

/** A card that rests on the scopes of safety: it opens and closes as they do. */
function byScopes(store, card, ui, safety) {
  const edit = mayEdit(store, card) && !isHeld(card);
  const open = edit && safety.open;
  ui.opened = open || !edit;
  const points = newPoints(store, card, ui, edit && !open);
  if (open && ui.lastLine && points.active()) ui.focus = firstEntry(store, card, points);
  ui.lastLine = false;
  const toRead = points.toRead();
  const lacking = edit && !open && toRead; // closed, and there is something to read
  const begun = card.readings.length > 0 || points.keptPoints().length > 0;
  const shown = begun || !lacking;
  ui.points = shown ? points : null;
  return [
    head(store, card),
    notices(store, card),
    safety.head(),
    inspections(store, card),
    lacking ? safety.closed(begun) : safety.before(),
    lacking && !begun && method(store, card),
    open && conditionsPanel(store, card, (ask) => reread(store, points, ask)),
    points.active() && safety.entry(),
    shown && points.draw(),
    open && points.active() && bottomBar(store, ui, points),
    safety.after(!toRead, Boolean(lacking)),
    ...lastParts(store, card, ui),
    edit && tabletChoices(store, card, ui),
    edit && !toRead && readBar(store, card),
  ];
}

/** What is typed first on a card that has just opened: a condition that is wanted, else a reading. */
function firstEntry(store, card, points) {
  const [blank] = blankAsks(store, card);
  if (blank) return `condition-${blank.name}`;
  const point = points.active();
  return points.draft.of(point)?.again ? `again-${point.id}` : `reading-${point.id}`;
}

function newPoints(store, card, ui, closed = false) {
  const raise = (point, reading) => startDeficiency(store, card, ui, point, reading);
  return new Points(store, card, ui, raise, closed);
}

function lastParts(store, card, ui) {
  return [
    cameBackPart(store, card),
    oneQuestion(store, card),
    h("div", { class: "findings" }, deficienciesPanel(store, card), notesPanel(store, card)),
    photoPanel(store, card, ui),
    signingPanel(store, card, ui),
    card.state === "signed" && nextCard(store),
  ];
}

/** A round that this tablet holds from before safety had scopes: to be read until it is loaded again. */
function toLoadAgain(store, card, ui) {
  const points = newPoints(store, card, ui, true);
  ui.points = points;
  const notice = h(
    "div",
    { class: "notice notice-care" },
    h("p", {}, "What this card rests on is not on this tablet yet: load the round again with signal. What was typed stays."),
  );
  return [head(store, card), notices(store, card), inspections(store, card), notice, points.draw(), ...lastParts(store, card, ui)];
}

/** A condition changed: the verdicts follow at once, the grid where its shape depends on it. */
function reread(store, points, ask) {
  if (ask?.choices.length || ask?.field?.kind === "yes_no") store.changed();
  else points.judge();
}

/** Serial number, maker, type and year of an apparatus, as far as they are known. */
function identity(apparatus) {
  const { serial, maker, type, built_year: year } = apparatus;
  return [serial && `Serial number ${serial}`, maker, type, year && `built ${year}`].filter(Boolean).join(" · ");
}

function head(store, card) {
  const cell = store.doc.cells.find((one) => one.id === card.cell_id);
  const of = store.doc.cards.length;
  return h(
    "div",
    { class: "headline" },
    h(
      "div",
      {},
      h("h1", { tabindex: -1, id: "card-title", "data-focus": "card-title" }, `${card.title} · ${card.apparatus.label}`),
      h("p", {}, `Cell ${cell.number} ${cell.name} · card ${card.position} of ${of} · ${card.detail}`),
      identity(card.apparatus) ? h("p", { class: "detail" }, identity(card.apparatus)) : null,
    ),
    h(
      "p",
      { class: "actions" },
      mayEdit(store, card) && fromRecord(store, card),
      mayEdit(store, card) && fromFile(store, card),
      besideLinks(store.doc.cards, card.id, "cards", (one) => `Card ${one.position}`),
      h("a", { class: "button", href: `#/cells/${cell.id}` }, "‹ Elevation"),
    ),
  );
}

/** Who has to release the card before a reading is taken on it, is invited or reviews it. */
function inspections(store, card) {
  const waits = !["signed", "withdrawn"].includes(card.state);
  return (card.inspections ?? [])
    .filter((point) => point.answer || waits)
    .map((point) => (point.answer ? answered(store, point) : awaited(store, point)));
}

function awaited(store, point) {
  return h(
    "div",
    { class: "notice notice-care" },
    h(
      "p",
      {},
      h("span", { class: "strong" }, `${capital(point.kind_text)}: `),
      `${INSPECTION_ASKS[point.kind]} ${point.party} (${point.reason.replace(/\.$/, "")}).`,
    ),
    h(
      "p",
      { class: "actions" },
      h("a", { class: "button", href: `/turnover/inspections/${point.id}` }, "Notice and answer"),
      h("button", { type: "button", class: "button", onclick: () => store.refresh() }, "Look for an answer"),
    ),
    point.kind === "hold" && h("p", { class: "quiet" }, `As this tablet knew it ${siteTime(store.fetchedAt, store.zone)}: without signal it cannot know of a release that came later.`),
  );
}

function answered(store, { kind_text: kind, party, answer }) {
  const at = siteTime(answer.at, store.zone);
  const by = answer.own ? at : `recorded by ${answer.by}, ${at}`;
  return h("p", { class: "quiet small" }, `${capital(kind)} for ${party}: ${answer.answer_text}, ${by}.`);
}

function notices(store, card) {
  const cardFaults = store.faultsAt(card.id, "card");
  return [
    cardFaults.length > 0 && h("div", { class: "notice notice-fault", role: "alert" }, cardFaults.map((said) => h("p", {}, said))),
    card.state === "returned" &&
      h(
        "div",
        { class: "notice notice-care" },
        h("p", { class: "strong" }, `Handed back by ${card.returned.by}, ${siteTime(card.returned.at, store.zone)}`),
        h("p", {}, card.returned.reason),
      ),
    card.state === "withdrawn" &&
      h(
        "div",
        { class: "notice notice-care" },
        h("p", {}, `Withdrawn by ${card.withdrawn.by}: ${card.withdrawn.reason}`),
      ),
    store.doc.round.state !== "open" &&
      h("div", { class: "notice" }, h("p", {}, `This round is ${store.doc.round.state}: it can be read, and nothing more entered.`)),
  ];
}

function method(store, card) {
  return h(
    "section",
    { class: "sheet", "aria-label": "How it is tested" },
    h("h2", { class: "sheet-title" }, "How it is tested"),
    h("p", {}, store.doc.procedures[card.procedure].method),
  );
}

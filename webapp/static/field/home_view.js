// The way in: the lineup's front elevation, a cell's cards, the next card.

import { inSentence } from "/offline/reader.js";
import { cameBackLines } from "./came_back/came_back_part.js";
import { cellsOverview, showChosen } from "./cells_overview.js";
import { h } from "./dom.js";
import { elevation, plateOf } from "./elevation.js";
import { fileOfRound } from "./from_record.js";
import { besideLinks } from "./near_cards.js";
import { nextCard } from "./next_card.js";
import { cellLine, safetyLine } from "./safety_page/home_lines.js";
import { intentOffer } from "./signing/intent_part.js";
import { intentOf, intents } from "./signing/intents.js";
import { lacking, missing } from "./signing/lacking.js";
import { mineToSign } from "./signing/performers.js";
import { signForm } from "./signing/sign_form.js";
import { waitingSignatures } from "./signing/waiting_signatures.js";
import { capital, CARD_STATES, counted, mark, verdict, VERDICTS } from "./words.js";

/** Draw the elevation, with the cards of the chosen cell or the next card under it. */
export function homeView(store, cellId, ui) {
  const cards = store.doc.cards.map((card) => store.card(card.id));
  const plates = new Map(
    store.doc.cells.map((cell) => [cell.id, plateOf(cards.filter((card) => card.cell_id === cell.id))]),
  );
  const hrefOf = (cell) => `#/cells/${cell.id}`;
  const frame = h(
    "section",
    { class: "sheet elevation-frame", "aria-label": "Front elevation", tabindex: 0 },
    elevation(store.doc, plates, cellId, hrefOf),
  );
  showChosen(frame);
  return [
    head(store, cards),
    cameBackLines(store),
    waitingSignatures(store, ui),
    safetyLine(store),
    cellsOverview(store.doc, plates, cellId, hrefOf),
    frame,
    cellId ? cellCards(store, cards, cellId) : nextCard(store),
    signSeveral(store, cards, ui),
  ];
}

function head(store, cards) {
  const counts = countVerdicts(cards);
  const signed = cards.filter((card) => card.state === "signed").length;
  return h(
    "div",
    { class: "headline" },
    h(
      "div",
      {},
      h("h1", { tabindex: -1 }, `${store.doc.round.title} · front elevation`),
      h("p", {}, `${signed} of ${counted(cards.length, "card")} signed. Choose a cell to see its cards.`),
      onPaper(store.doc.round),
    ),
    h("p", { class: "actions" }, h("a", { class: "button", href: "#/scan" }, "Scan a label"), fileOfRound(store)),
    h(
      "div",
      { class: "tally" },
      Object.entries(counts).map(([word, count]) => count > 0 && verdict(word, count)),
    ),
  );
}

function onPaper(round) {
  const sheets = `/turnover/rounds/${round.id}`;
  return h(
    "p",
    {},
    h("a", { href: `${sheets}/field-sheets.pdf` }, "Field sheets on paper"),
    (round.state === "open" || !round.earlier_list) && [" · ", h("a", { href: `${sheets}/safety-sheet.pdf` }, "Safety sheet on paper")],
  );
}

function countVerdicts(cards) {
  const counts = { within: 0, marginal: 0, outside: 0, unjudged: 0 }; // in the order that the lists have
  for (const card of cards) {
    if (card.state === "withdrawn") continue;
    for (const reading of card.readings) {
      if (!reading.superseded_by) counts[reading.judgement.verdict] += 1;
    }
  }
  return counts;
}

function cellCards(store, cards, cellId) {
  const cell = store.doc.cells.find((one) => one.id === cellId);
  if (!cell) return h("div", { class: "sheet empty" }, "There is no such cell in this lineup.");
  const own = cards.filter((card) => card.cell_id === cellId);
  return h(
    "section",
    { class: "sheet", "aria-labelledby": "cell-title" },
    h(
      "div",
      { class: "list-head" },
      h("h2", { id: "cell-title", "data-focus": "cell-title", tabindex: -1 }, `Cell ${cell.number} · ${cell.name}`),
      h("p", { class: "actions" }, besideLinks(store.doc.cells, cell.id, "cells", (one) => `${one.number} ${one.name}`)),
    ),
    cellLine(store, cellId),
    own.length
      ? h("ul", { class: "lines" }, own.map((card) => h("li", {}, cardLine(store, card))))
      : h("p", { class: "quiet" }, "The programme asks for nothing in this cell."),
  );
}

function cardLine(store, card) {
  const counts = countVerdicts([card]);
  const held = card.readings.filter((reading) => !reading.superseded_by).length;
  const done = card.state === "signed";
  return h(
    "div",
    { class: "line" },
    mark(done ? "done" : "open"),
    h(
      "div",
      {},
      h("p", { class: "strong" }, `${card.title} · ${card.apparatus.label}`),
      h(
        "p",
        { class: "detail" },
        `${stateWords(store, card)} · ${held} of ${counted(card.points.length, "point")} · ${card.detail}`,
      ),
      h(
        "div",
        { class: "tally" },
        VERDICTS.map((word) => word !== "within" && counts[word] > 0 && verdict(word, counts[word])),
      ),
    ),
    h(
      "a",
      { class: "button", href: `#/cards/${card.id}` },
      done || !store.mayRecord ? "Read" : "Open card",
      h("span", { class: "out-of-sight" }, `: ${card.title}, ${card.apparatus.label}`),
    ),
  );
}

const stateWords = (store, card) => CARD_STATES[card.state] + (intentOf(store, card.id) ? ", signature waits" : "");

function signSeveral(store, cards, ui) {
  const { hasSignal } = store;
  if (!store.mayRecord || (hasSignal && intents(store).length)) return null; // those come first
  const open = hasSignal ? missing : lacking;
  const ready = cards.filter(
    (card) =>
      !["signed", "withdrawn"].includes(card.state) &&
      !intentOf(store, card.id) &&
      !open(store, card).length &&
      mineToSign(store, card),
  );
  if (!ready.length) return null;
  ui.leftOut ??= new Set();
  const chosen = ready.filter((card) => !ui.leftOut.has(card.id));
  return h(
    "section",
    { class: "sheet", "aria-label": "Complete, not signed" },
    h("h2", {}, `${counted(ready.length, "card is", "cards are")} complete and not signed`),
    ready.map((card) => toSign(store, card, ui.leftOut)),
    chosen.length ? (hasSignal ? signForm(store, ui, chosen) : intentOffer(store, chosen)) : h("p", { class: "quiet" }, "Choose the cards to sign."),
  );
}

/** A card to be signed with the others, or left out; what is not within is said. */
function toSign(store, card, leftOut) {
  const counts = countVerdicts([card]);
  return h(
    "label",
    { class: "choice" },
    h("input", {
      type: "checkbox",
      "data-focus": `sign:${card.id}`,
      checked: !leftOut.has(card.id),
      onchange: (event) => {
        if (event.target.checked) leftOut.delete(card.id);
        else leftOut.add(card.id);
        store.changed();
      },
    }),
    h("span", {}, `${capital(card.apparatus.label)}, ${inSentence(card.title)}`),
    VERDICTS.map((word) => word !== "within" && counts[word] > 0 && verdict(word, counts[word])),
  );
}

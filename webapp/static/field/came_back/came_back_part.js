// What came back on a card and no field can take: said, kept, and decided here.

import { saidUnit } from "/offline/reader.js";
import { h } from "../dom.js";
import { mayEdit } from "../findings.js";
import { typedWords } from "../point_words.js";
import { siteTime } from "../words.js";
import { besidePoints, cameBack, dropBack, recordAgain } from "./came_back.js";

const KINDS = { note: "Note", deficiency: "Deficiency", close_deficiency: "Closing of a deficiency", confirm: "Confirmation" };

/** The section of one card; null where nothing came back. */
export function cameBackPart(store, card) {
  const found = besidePoints(store, card);
  if (!found.length) return null;
  return h(
    "section",
    { class: "sheet", "aria-labelledby": "came-back" },
    h("h2", { class: "sheet-title", id: "came-back" }, "Came back to this tablet"),
    h("p", {}, "The server did not take this in. It stays here until you decide."),
    h("ul", { class: "lines" }, found.map((one) => line(store, card, one))),
  );
}

function line(store, card, back) {
  const { entry, why } = back;
  const words = `${placeWords(card, entry)}: ${saidWords(entry)}`;
  const of = () => h("span", { class: "out-of-sight" }, ` ${words}`);
  const drop = () => confirm(`Drop this? ${words}. It is then on no record and not on this tablet.`) && dropBack(store, back);
  return h(
    "li",
    {},
    h("p", { class: "strong" }, words),
    h("p", { class: "detail" }, `recorded ${siteTime(entry.at, store.zone)} by ${store.me} · ${why}`),
    !mayEdit(store, card) && h("p", {}, "Once the lead has handed the card back to you, it can be recorded again."),
    h(
      "p",
      { class: "actions" },
      mayEdit(store, card) && h("button", { type: "button", class: "button", "data-focus": `record:${entry.key}`, onclick: () => recordAgain(store, back) }, "Record it again", of()),
      h("button", { type: "button", class: "button button-quiet", "data-focus": `drop:${entry.key}`, onclick: drop }, "Drop it", of()),
    ),
  );
}

function placeWords(card, entry) {
  if (entry.kind !== "reading") return KINDS[entry.kind] ?? "Entry";
  return card.points.find(({ id }) => id === entry.point_id)?.label ?? "A point";
}

function saidWords({ text, unit, code }) {
  return [text ? typedWords({ text }) : code, unit && saidUnit(unit)].filter(Boolean).join(" ");
}

/** At the head of the round: where something came back; null where nothing did. */
export function cameBackLines(store) {
  const found = cameBack(store);
  const cards = [...new Set(found.map(({ entry }) => entry.card_id))].map((id) => store.cards.get(id));
  const known = cards.filter(Boolean);
  if (!found.length) return null;
  const many = found.length === 1 ? "One entry" : `${found.length} entries`;
  return h(
    "div",
    { class: "notice notice-care", role: "status" },
    h("p", { class: "strong" }, `${many} came back to this tablet: it is for you to decide.`),
    known.length < cards.length && h("p", {}, "Some of it is for a card that is in this round no more: carry it off as a file, under On this tablet."),
    h("p", { class: "actions" }, known.map((card) => h("a", { class: "button", href: `#/cards/${card.id}` }, `${card.title} · ${card.apparatus.label}`))),
  );
}

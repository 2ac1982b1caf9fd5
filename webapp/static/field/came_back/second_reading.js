// Two readings of one point from two tablets: side by side, and what becomes of the second.

import { saidUnit } from "/offline/reader.js";
import { h } from "../dom.js";
import { typedWords } from "../point_words.js";
import { judgeTyped } from "../preview.js";
import { siteDay, siteTime, verdict } from "../words.js";
import { dropBack, recordAgain, secondAt } from "./came_back.js";

/** The part below a point that somebody else has read as well; null where nobody has. */
export function secondReading(grid, point) {
  const { store, card } = grid;
  const back = secondAt(store, card, point);
  const held = grid.held.get(point.id);
  if (!back || !held) return null;
  const mine = { ...back.entry, by: store.me, taken_at: back.entry.at, instrument: store.instruments.get(back.entry.instrument_id)?.tag };
  mine.judgement = judgeTyped(store, card, new Map([[point.id, mine]])).get(point.id);
  const title = `second-${point.id}`;
  return h(
    "section",
    { class: "second-reading", "aria-labelledby": title },
    h("h3", { id: title }, `${point.label} was read twice: which one stands?`),
    h(
      "div",
      { class: "second-both" },
      one(store, "On the record", held),
      one(store, "Yours, on this tablet", mine),
    ),
    decision({ store, card, point, back, held, mine }),
  );
}

/** Value with unit, verdict, who, when, instrument. */
function one(store, title, reading) {
  return h(
    "div",
    {},
    h("p", { class: "small quiet" }, title),
    h("p", { class: "typed" }, valueWords(reading)),
    verdict(reading.judgement?.verdict ?? "unjudged"),
    h("p", { class: "small" }, `${reading.by}, ${siteTime(reading.taken_at, store.zone)} · `, h("span", { class: "nowrap" }, reading.instrument ?? "no instrument")),
  );
}

const valueWords = ({ text, unit }) => [typedWords({ text }), unit && saidUnit(unit)].filter(Boolean).join(" ");

function decision(about) {
  const { store, card, point, back, held } = about;
  const typed = store.draft(card.id);
  typed.seconds ??= {};
  const fault = store.faultsAt(card.id, `second:${point.id}`).join(" ");
  const field = `second-reason-${point.id}`;
  const drop = () => confirm(`Drop your ${valueWords(back.entry)} at ${point.label}? It will be neither a reading nor a note.`) && settle(about, () => dropBack(store, back));
  return h(
    "div",
    {},
    h(
      "div",
      { class: `field${fault ? " field-faulty" : ""}` },
      h("label", { for: field }, "Why yours is recorded as well, as a retest"),
      h("input", {
        id: field,
        "data-focus": field,
        autocomplete: "off",
        value: typed.seconds[point.id] ?? "",
        oninput: (event) => {
          typed.seconds[point.id] = event.target.value;
          store.saveDrafts();
        },
      }),
      fault && h("span", { class: "fault", role: "alert" }, fault),
    ),
    h(
      "div",
      { class: "actions" },
      choice("retest", point, "Record mine as a retest", () => retest(about), "button-main"),
      choice("note", point, `Let ${held.by}'s stand, note mine`, () => settle(about, () => note(about))),
      choice("drop", point, "Drop mine", drop, "button-quiet"),
    ),
  );
}

function choice(does, point, words, onclick, kind = "") {
  return h("button", { type: "button", class: `button ${kind}`, "data-focus": `${does}-${point.id}`, onclick }, words, h("span", { class: "out-of-sight" }, ` at ${point.label}`));
}

function retest(about) {
  const { store, card, point, back, held } = about;
  const reason = store.draft(card.id).seconds[point.id]?.trim();
  store.clearFaults(card.id, `second:${point.id}`);
  if (reason) return settle(about, () => recordAgain(store, back, { supersedes: held.id, reason }));
  store.addFault(card.id, `second:${point.id}`, "Say why it is a retest.");
  return store.changed();
}

function note({ store, card, point, back, held, mine }) {
  const { entry } = back;
  const at = siteTime(entry.at, store.zone).replace(" today", ` on ${siteDay(entry.at, store.zone)}`);
  const judged = mine.judgement ? `, ${mine.judgement.verdict} as the tablet judged it` : "";
  const text = `${point.label} was also read as ${valueWords(entry)}${judged}, by ${store.me}, ${at}, with ${mine.instrument ?? "an instrument not in the register"}. The reading of ${held.by} was let stand.`;
  store.keep.drop(`back:${entry.key}`);
  store.record({ kind: "note", card_id: card.id, text });
}

/** What was typed for the decision goes with it. */
function settle({ store, card, point }, act) {
  delete store.draft(card.id).seconds[point.id];
  store.clearFaults(card.id, `second:${point.id}`);
  store.saveDrafts();
  act();
}

// The rounds that this tablet holds, and what can be done with each.

import { h } from "../dom.js";
import { roundPage } from "../shell/urls.js";
import { failedWords, returnRound, takeAlong } from "./take_along.js";
import { ago, sizeWords, whenWords } from "./said.js";

/** The list; *page* tells what came of an act. */
export function roundsPart(page, { rounds, waiting }) {
  if (!page.person) return null;
  return h(
    "section",
    { class: "sheet", "aria-labelledby": "held-rounds" },
    h("h2", { class: "sheet-title", id: "held-rounds" }, "Rounds"),
    rounds.length
      ? h("ul", { class: "lines" }, rounds.map((one) => line(page, one, unsentOf(waiting, page.person, one))))
      : h(
          "div",
          { class: "empty" },
          h("p", { class: "strong" }, "No round is on this tablet."),
          h("p", {}, "Take one along in the list of rounds while there is signal: it stays here, and opens without."),
        ),
  );
}

const unsentOf = (waiting, person, { round }) => waiting.find((one) => one.person === person.id && one.round === round);

function line(page, { round, label, taken_at: takenAt, fetched_at: fetchedAt, bytes }, unsent) {
  const words = `${label.site} · ${label.lineup} · ${label.title}`;
  const taken = takenAt ? `taken along ${whenWords(takenAt)}` : "looked at, not taken along";
  return h(
    "li",
    {},
    h("p", { class: "strong" }, words),
    h("p", { class: "detail" }, `${taken} · held as it was ${ago(fetchedAt)} · ${sizeWords(bytes)}`),
    h(
      "p",
      { class: "actions" },
      h("a", { class: "button button-main", "data-focus": `open:${round}`, href: roundPage(round) }, "Open", of(words)),
      button(`take:${round}`, takenAt ? "Refresh" : "Take along", words, () => take(page, round, words)),
      takenAt && button(`back:${round}`, "Give back", words, () => back(page, round, words, unsent)),
    ),
  );
}

const of = (words) => h("span", { class: "out-of-sight" }, ` ${words}`);

function button(focus, does, words, onclick) {
  return h("button", { type: "button", class: "button", "data-focus": focus, onclick }, does, of(words));
}

async function take(page, round, words) {
  await takeAlong(page.person, round).then(
    () => page.tell(`${words} is on this tablet as it is now.`),
    (error) => page.tell(`${words} stays as it was: ${failedWords(error)}`),
  );
}

async function back(page, round, words, unsent) {
  if (unsent) return page.tell(`${words} cannot be given back: ${unsent.entries + unsent.photos + unsent.originals + unsent.intents} unsent. Send them, or carry them off, first.`);
  if (!confirm(`Give ${words} back? It opens here without signal no more, and the gate waits for this tablet no more.`)) return;
  await returnRound(page.person, round).then(
    () => page.tell(`${words} is given back.`),
    (error) => page.tell(`${words} stays here: ${failedWords(error)}`),
  );
}

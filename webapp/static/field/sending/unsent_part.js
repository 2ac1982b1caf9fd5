// What is unsent on this tablet, whose it is, and how to carry it off.

import { h } from "../dom.js";
import { roundPage } from "../shell/urls.js";
import { counted } from "../words.js";
import { NOT_IN_THE_FILE, save, unsentFiles } from "./carry_off.js";
import { ago } from "./said.js";

/** The list, by person and round; nothing of what was typed is shown, for it is sealed. */
export function unsentPart(page, waiting) {
  return h(
    "section",
    { class: "sheet", "aria-labelledby": "unsent" },
    h("h2", { class: "sheet-title", id: "unsent" }, "Unsent"),
    waiting.length ? h("ul", { class: "lines" }, waiting.map((one) => line(page, one))) : h("p", {}, "Nothing is unsent on this tablet."),
    waiting.length > 0 && h("div", { class: "actions" }, page.store && sendButton(page), people(waiting).map((one) => carryButton(page, one))),
    waiting.length > 0 && h("p", { class: "small quiet" }, `A file that is carried off is sealed; a lead takes it in at the desk. What it holds stays here until the server has it. ${NOT_IN_THE_FILE}`),
  );
}

function line(page, { round, person, person_name: name, label, entries, photos, originals, intents, oldest_at: oldest }) {
  const what = [
    entries && counted(entries, "entry", "entries"),
    photos && counted(photos, "photograph"),
    originals && counted(originals, "original"),
    intents && `${counted(intents, "signature")} to be given`,
  ].filter(Boolean);
  const where = label ? `${label.lineup} · ${label.title}` : "a round that is not held here";
  const own = person === page.person?.id;
  return h(
    "li",
    {},
    h("p", { class: "strong" }, `${name ?? "Somebody"} · ${where}`),
    h("p", { class: "detail" }, `${what.join(", ")}, the oldest ${ago(oldest)}${own ? "" : `: sent once ${name ?? "they"} opens this tablet with signal`}`),
    own && intents > 0 && page.store?.doc.round.id !== round &&
      h("p", { class: "actions" }, h("a", { class: "button", href: roundPage(round) }, "Open the round to sign", h("span", { class: "out-of-sight" }, ` ${where}`))),
  );
}

const people = (waiting) => [...new Map(waiting.filter(({ entries, photos }) => entries || photos).map((one) => [one.person, one])).values()];

function sendButton(page) {
  const send = async () => {
    await page.store.outbox.send();
    await page.store.photos.queue.send();
    page.tell(page.store.outbox.state === "no-signal" ? "There is no signal: it is tried again by itself." : "");
  };
  return h("button", { type: "button", class: "button button-main", "data-focus": "send", onclick: send }, "Send now");
}

function carryButton(page, { person, person_name: name }) {
  const carry = () =>
    unsentFiles(person).then(save).catch(() => page.tell("The file could not be made: this tablet does not give out what it holds."));
  return h("button", { type: "button", class: "button", "data-focus": `carry:${person}`, onclick: carry }, "Carry off as a file", h("span", { class: "out-of-sight" }, ` what ${name} has unsent`));
}

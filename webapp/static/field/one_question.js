// Questions that this card answers together with others of its cell.

import { inSentence, together } from "/offline/reader.js";
import { h } from "./dom.js";

/** Draw each question of the card: where its cards stand, and what follows from all. */
export function oneQuestion(store, card) {
  return (store.doc.together ?? [])
    .filter(({ cards }) => cards.includes(card.id))
    .map((asked) => part(card, answer(store, asked)));
}

/** What stands on the cards of one question here, unsent readings included. */
function answer(store, { question, cards, known, shown }) {
  const { questions, procedures, rules } = store.doc;
  const members = cards
    .map((id) => store.card(id))
    .filter(Boolean)
    .map((one) => [one, (procedures[one.procedure].questions ?? []).filter(({ of }) => of === question)]);
  return together(questions[question], members, known, shown, rules);
}

function part(card, { title, members, shown, lacks, follows }) {
  return h(
    "section",
    { class: "sheet one-question", "aria-label": `One question: ${inSentence(title)}` },
    h("h2", { class: "sheet-title" }, `One question: ${inSentence(title)}`),
    h("ul", { class: "lines together" }, members.map((one) => line(card, one))),
    shown.length > 0 && h("p", { class: "detail" }, shown.map(([label, value]) => `${label} ${value}`).join(" · ")),
    lacks.map((words) => h("p", { class: "quiet" }, words)),
    follows.map((words) => h("p", { class: "strong" }, words)),
  );
}

function line(card, { card_id: id, title, apparatus, last, open }) {
  const name = `${title} · ${apparatus}`;
  return h(
    "li",
    {},
    h("div", {}, h("span", { class: "strong" }, name), h("br"), h("span", { class: "detail" }, [last, open].filter(Boolean).join(" · "))),
    id === card.id
      ? h("span", { class: "quiet small" }, "this card")
      : h("a", { class: "button button-quiet", href: `#/cards/${id}` }, "Open", h("span", { class: "out-of-sight" }, ` ${name}`)),
  );
}

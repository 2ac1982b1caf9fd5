// What the fold of safety takes of the cards: readings, signatures, cells, what was found good.

import { personKey } from "./safety/people.js";

/** [readings, signed, cells, foundGood], each by card, with what waits in the outbox. */
export function ofCards(store, me) {
  const cards = [...store.cards.values()];
  return [
    byCard(cards, (card) => readingsOf(store, card, me)),
    byCard(cards, ({ signatures }) => signatures.findLast(({ holds }) => holds)?.at ?? null),
    byCard(cards, ({ cell_id: cell }) => cell),
    byCard(cards.filter(({ id }) => isWaitedFor(store, id)), (card) => foundGood(store, card)),
  ];
}

const byCard = (cards, of) => Object.fromEntries(cards.map((card) => [card.id, of(card)]));

function readingsOf(store, card, me) {
  const { by } = store.safety.book.cards[card.id] ?? {};
  const heard = card.readings.map((one) => ({
    at: one.taken_at,
    by: one.by_id ?? personKey({ name: one.by }),
    choice: one.conditions[by] ?? null,
  }));
  const waiting = store.outbox.of(card.id).filter(({ kind }) => kind === "reading");
  return [...heard, ...waiting.map(({ at, conditions }) => ({ at, by: me, choice: conditions[by] ?? null }))];
}

function isWaitedFor(store, cardId) {
  return Object.values(store.safety.book.cards).some(({ waits }) => waits.some(({ cards }) => cards?.includes(cardId)));
}

/** When every point of a card held a reading that is within or let stand; [] where one does not. */
function foundGood(store, { id }) {
  const card = store.card(id);
  const held = card.readings.filter((one) => !one.superseded_by);
  const isGood = ({ judgement, disposition }) => judgement.verdict === "within" || letStand(judgement, disposition);
  const points = new Set(held.filter(isGood).map((one) => one.point_id));
  if (card.points.some((point) => !points.has(point.id)) || !held.every(isGood)) return [];
  const last = Math.max(...held.map((one) => Date.parse(one.taken_at)));
  return [{ at: new Date(last).toISOString(), good: true }];
}

/** What is outside is let stand by two: a second person has agreed. */
function letStand({ verdict }, disposition) {
  if (!disposition || disposition.decision === "reject") return false;
  return verdict !== "outside" || disposition.answer?.answer === "agreed";
}

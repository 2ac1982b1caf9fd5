// What a card says to whoever signs it, and what of it has changed since.

import { saidUnit } from "/offline/reader.js";
import { typedWords } from "../point_words.js";
import { standing } from "../preview.js";

/**
 * What was in front of the signer, as it can be compared later: {readings, notes,
 * deficiencies, returned}. A reading keeps its id when the server has it, so what was
 * waiting here and has been sent since is the same.
 */
export function inFront(card) {
  const readings = [...standing(card).values()].map((one) => ({ id: one.id, point: one.point_id, said: saidOf(one), verdict: one.judgement.verdict }));
  return {
    readings: readings.sort((a, b) => (a.id < b.id ? -1 : 1)),
    notes: card.notes.map(({ by, text }) => `${by}: ${text}`).sort(),
    deficiencies: card.deficiencies.map(({ id, state, text }) => `${id} ${state}: ${text}`).sort(),
    returned: card.returned?.at ?? null,
  };
}

const saidOf = (reading) => [typedWords(reading), reading.unit && saidUnit(reading.unit)].filter(Boolean).join(" ");

/** What is other on the card than it was when somebody had it in front of them, in words. */
export function changedSince(said, card) {
  const now = inFront(card);
  return [
    ...readingsChanged(said, now, card),
    ...now.notes.filter((one) => !said.notes.includes(one)).map((one) => `a note of ${one}`),
    now.deficiencies.join() !== said.deficiencies.join() && "its deficiencies are other ones",
    now.returned !== said.returned && card.returned && `handed back by ${card.returned.by}: ${card.returned.reason}`,
  ].filter(Boolean);
}

function readingsChanged(said, now, card) {
  return card.points
    .map(({ id, label }) => [label, of(said, id), of(now, id)])
    .filter(([, before, after]) => before?.id !== after?.id || before?.verdict !== after?.verdict)
    .map(([label, before, after]) => `${label} is ${words(after)}, and was ${words(before)}`);
}

const of = ({ readings }, point) => readings.find((one) => one.point === point);

const words = (reading) => (reading ? `${reading.said}, ${reading.verdict}` : "not read");

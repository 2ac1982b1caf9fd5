// Recording a reading: what stands in the way, and the entry that is sent.

import { inSentence } from "/offline/reader.js";
import { asksOf, chosenInstrument, conditionsNow, isByEye } from "./conditions.js";

/** The entry of what is typed at a point; null, with faults at the card, where it cannot be. */
export function entryOf({ store, card, draft, series }, point, lacking) {
  const { conditions, faults } = conditionsNow(store, card, point);
  const instrument = chosenInstrument(store, card);
  const text = draft.textOf(point);
  const { again } = draft.of(point);
  const fault = (said, at = `row:${point.id}`) => store.addFault(card.id, at, said);
  store.clearFaults(card.id);
  const wrong = draft.faultAt(point);
  if (wrong) fault(wrong);
  if (!instrument && !isByEye(store, card)) {
    fault("Choose the instrument from the register.", "condition:instrument_id");
    fault("Choose the instrument above first.");
  }
  for (const [name, said] of Object.entries(faults)) {
    const { label } = asksOf(store, card).find((ask) => ask.name === name);
    fault(`Look at the conditions above (${inSentence(label)}): ${said}`);
  }
  for (const said of series.faults(point, text)) fault(said);
  if (again && !again.reason?.trim()) fault("Say why the point is measured again.");
  if (!lacking && !store.faults[card.id]) askForBlanks({ store, card, draft }, point, fault);
  if (store.faults[card.id]) return null;
  return {
    kind: "reading",
    card_id: card.id,
    point_id: point.id,
    text,
    unit: draft.unitFor(point, text),
    conditions: { ...conditions, ...series.conditions(point) },
    instrument_id: instrument?.id ?? "",
    ...(again && { supersedes: again.of, reason: again.reason.trim() }),
  };
}

/** Without a condition that the rule needs the reading stands unjudged: not by accident. */
function askForBlanks({ store, card, draft }, point, fault) {
  const blank = blankAsks(store, card, point);
  if (!blank.length) return;
  draft.set(point, { lacks: true });
  const names = blank.map((ask) => inSentence(ask.label)).join("; ");
  fault(`Fill in above: ${names}. Without it the reading may stand unjudged.`);
}

/** The conditions that are wanted and blank; at a point, less what the point fixes. */
export function blankAsks(store, card, { given = {} } = {}) {
  const { conditions, faults } = conditionsNow(store, card);
  const known = { ...given, ...conditions, ...faults };
  return asksOf(store, card).filter((ask) => ask.required && !(ask.name in known));
}

/** The next point without a reading, from this one on. */
export function nextAfter({ card, held }, point) {
  const at = card.points.indexOf(point);
  const order = [...card.points.slice(at + 1), ...card.points.slice(0, at)];
  return order.find((one) => !held.has(one.id));
}

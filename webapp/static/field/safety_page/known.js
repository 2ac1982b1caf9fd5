// What the page knows itself stands beside a line and is not typed again.

import { clock, notedWords, registersOf, sectionWords } from "./names.js";

// What is measured or happens at a time is written anew; the rest may be as it was.
const AS_BEFORE = new Set(["text", "choice", "person", "people", "grounds", "cell"]);

/** What was noted before a line lapsed, to be taken over by one tap; null where nothing was. */
export function notedBefore(store, line) {
  if (line.state !== "lapsed") return null;
  const { fields } = store.safety.book;
  const kept = Object.entries(line.noted ?? {}).filter(([name]) => AS_BEFORE.has(fields[name]?.kind));
  if (!kept.length) return null;
  return { values: Object.fromEntries(kept), words: kept.map(([name, value]) => notedWords(store, name, value)).join(", ") };
}

/** Return {field: {value, words}} of what is known at a line of *scope*. */
export function knownAt(store, scope, line) {
  const { fields } = store.safety.book.lines[line.code];
  const known = { ...ofClearance(store, scope), ...ofGround(scope, line), ...ofCount(scope), ...ofBriefing(store, scope, line) };
  return Object.fromEntries(fields.filter((name) => known[name]).map((name) => [name, known[name]]));
}

const same = (text) => ({ value: text, words: text });

function ofClearance(store, { clearance, lineup, section }) {
  if (!clearance) return {};
  return { clearance_number: same(clearance), section_cleared: same(sectionWords(store.safety.book, { lineup, section })) };
}

/** Number, place and size stand on the ground register. */
function ofGround(scope, { item }) {
  const ground = registersOf(scope).ground.find((one) => one.item === item);
  if (!ground) return {};
  const { number, place, size } = ground.fields;
  return Object.fromEntries(
    Object.entries({ ground_number: number, ground_switch: number, ground_place: place, ground_size: size })
      .filter(([, value]) => value)
      .map(([name, value]) => [name, same(value)]),
  );
}

/** How many grounds went on and are off: the register counts them where the whole goes back. */
function ofCount({ returning, returning_cells: cells, grounds }) {
  if (!returning || cells) return {};
  const count = (number) => ({ value: number, words: String(number) });
  return { grounds_on: count(grounds.length), grounds_off: count(grounds.filter(({ fields }) => fields.gone).length) };
}

/** Everybody of the crew was briefed by the one who gave the briefing, at its time. */
function ofBriefing(store, { lines, scope }, { code }) {
  if (scope !== "crew" || code === "G03a") return {};
  const held = lines.find((line) => line.code === "G03a" && line.state === "given");
  const at = held?.noted.briefed_at;
  if (!at) return {};
  const by = store.safety.book.people.find(({ name }) => name === held.by) ?? { id: null, name: held.by };
  return { briefed_at: { value: at, words: clock(at, store.zone) }, briefed_by: { value: by, words: by.name } };
}

// The sections of the bus: their names, currents, and the cells that they run over.

import { nextFree } from "./count_up.js";
import { newApparatus } from "./draft.js";

export const BUS = "bus"; // the apparatus that stands once for a section

/** How a section is written over its cells: "bus A · 2000 A". */
export function sectionWords({ name, rated_a }) {
  return rated_a === null || rated_a === undefined ? name : `${name} · ${rated_a} A`;
}

/** The draft with a section more, of the same current as the last one. */
export function addSection(draft) {
  const names = new Set(draft.sections.map((one) => one.name));
  const last = draft.sections.at(-1);
  const name = last ? nextFree(last.name === "bus" ? "bus A" : last.name, names) : "bus";
  return { ...draft, sections: [...draft.sections, { name, rated_a: last?.rated_a ?? null }] };
}

/** The draft with another name of a section, on its cells, ties and bus too. */
export function renameSection(draft, at, name) {
  const old = draft.sections[at].name;
  const sections = draft.sections.with(at, { ...draft.sections[at], name });
  const cells = draft.cells.map((cell) => ({
    ...cell,
    bus: cell.bus === old ? name : cell.bus,
    tie_to: cell.tie_to === old ? name : cell.tie_to,
    apparatus: cell.apparatus.map((one) =>
      one.kind === BUS && one.label === old && cell.bus === old ? { ...one, label: name } : one,
    ),
  }));
  return { ...draft, sections, cells };
}

/** The draft with another rated current of a section, in A or null. */
export function rateSection(draft, at, rated_a) {
  return { ...draft, sections: draft.sections.with(at, { ...draft.sections[at], rated_a }) };
}

/** The draft without a section; its cells go to the one before it, else the one after. */
export function removeSection(draft, at) {
  const gone = draft.sections[at].name;
  const sections = draft.sections.toSpliced(at, 1);
  const heir = sections[Math.max(0, at - 1)]?.name ?? "";
  const cells = draft.cells.map((cell) => {
    const bus = cell.bus === gone ? heir : cell.bus;
    return { ...cell, bus, tie_to: cell.tie_to === gone || cell.tie_to === bus ? null : cell.tie_to };
  });
  return { ...draft, sections, cells };
}

/**
 * The draft with the cells of places *from* to *to* on a section. Where it has no cell yet
 * its first one gets the section's bus.
 */
export function spread(draft, name, from, to) {
  const [first, last] = from <= to ? [from, to] : [to, from];
  const fresh = !draft.cells.some((cell) => cell.bus === name);
  let { next } = draft;
  const cells = draft.cells.map((cell, at) => {
    if (at < first || at > last) return cell;
    const tie_to = cell.tie_to === name ? null : cell.tie_to;
    const begins = fresh && at === first && !named(draft, name);
    const bus = begins ? [newApparatus(`a${next++}`, BUS, name)] : [];
    return { ...cell, bus: name, tie_to, apparatus: [...bus, ...cell.apparatus] };
  });
  return settleBuses({ ...draft, cells, next });
}

/** Whether a bus of this name stands anywhere. */
function named(draft, name) {
  const isIt = (one) => one.kind === BUS && one.label === name;
  return draft.cells.some((cell) => cell.apparatus.some(isIt));
}

/** The draft with each section's bus in a cell of that section: its first one from the left. */
export function settleBuses(draft) {
  const sections = new Set(draft.cells.map((cell) => cell.bus));
  const strays = (cell, one) =>
    one.kind === BUS && one.label !== cell.bus && sections.has(one.label);
  const homeless = draft.cells.flatMap((cell) => cell.apparatus.filter((o) => strays(cell, o)));
  if (!homeless.length) return draft;
  const seen = new Set();
  const cells = draft.cells.map((cell) => {
    const kept = cell.apparatus.filter((one) => !strays(cell, one));
    const first = !seen.has(cell.bus);
    seen.add(cell.bus);
    const comes = first ? homeless.filter((one) => one.label === cell.bus) : [];
    return { ...cell, apparatus: [...comes, ...kept] };
  });
  return { ...draft, cells };
}

/**
 * The draft with a section that runs from one place to another, and no further: its cells
 * beyond go to the section beside it, where there is one.
 */
export function setRange(draft, name, from, to) {
  const [first, last] = from <= to ? [from, to] : [to, from];
  const at = draft.sections.findIndex((one) => one.name === name);
  const [left, right] = [draft.sections[at - 1], draft.sections[at + 1]];
  let next = spread(draft, name, first, last);
  next.cells.forEach((cell, place) => {
    const heir = place > last ? (right ?? left) : (left ?? right);
    const beyond = cell.bus === name && (place < first || place > last);
    if (beyond && heir) next = spread(next, heir.name, place, place);
  });
  return next;
}

/** The first and the last place of a section's cells, or null where it has none. */
export function rangeOf(draft, name) {
  const places = draft.cells.flatMap((cell, at) => (cell.bus === name ? [at] : []));
  return places.length ? { from: places[0], to: places.at(-1) } : null;
}

/** The runs of neighbouring cells on one section: [{name, from, to}], *to* not included. */
export function runs(cells) {
  const found = [];
  cells.forEach(({ bus }, at) => {
    const last = found.at(-1);
    if (last && last.name === bus) last.to = at + 1;
    else found.push({ name: bus, from: at, to: at + 1 });
  });
  return found.filter((run) => run.name);
}

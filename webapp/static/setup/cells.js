// What is done to cells: each takes a draft and gives the next one.

import { nextFree, tagFor } from "./count_up.js";
import { cellOf, newApparatus, numbers, placeOf, tags } from "./draft.js";
import { BUS, settleBuses } from "./sections.js";

/**
 * The draft with a cell more, after the cell *after* (at the right end without one).
 *
 * *holds* is what such a cell holds, as [{kind, label}], `{n}` standing for its number. The
 * first cell of a section gets the section's bus as well. `added` is the new cell's key.
 */
export function addCell(draft, { kind, name = "", after = null, holds = [] }) {
  const at = after === null ? draft.cells.length : placeOf(draft, after) + 1;
  const beside = draft.cells[at - 1] ?? draft.cells[at];
  const number = nextNumber(draft);
  const bus = beside?.bus ?? draft.sections[0]?.name ?? "";
  let { next } = draft;
  const key = `c${next++}`;
  const labels = tags(draft);
  const apparatus = [...busOf(draft, bus), ...holds].map((one) => {
    const wanted = one.label.replaceAll("{n}", number);
    const label = labels.has(wanted) ? nextFree(wanted, labels) : wanted;
    labels.add(label);
    return newApparatus(`a${next++}`, one.kind, label);
  });
  const cell = { key, id: null, number, name, kind, bus, tie_to: null, apparatus };
  return { ...draft, cells: draft.cells.toSpliced(at, 0, cell), next, added: key };
}

function nextNumber(draft) {
  const taken = numbers(draft);
  const whole = [...taken].filter((one) => /^\d+$/.test(one)).map(Number);
  const next = String(Math.max(0, ...whole) + 1);
  return taken.has(next) ? nextFree(next, taken) : next;
}

/** The bus of a section, where no cell of the section has it yet. */
function busOf(draft, section) {
  const there = draft.cells.some(
    (cell) => cell.bus === section && cell.apparatus.some((one) => one.kind === BUS),
  );
  return section && !there ? [{ kind: BUS, label: section }] : [];
}

/**
 * The draft with *count* copies of a cell to the right of it, numbers, names and tags
 * counted up. A serial number is one thing's own and the bus stands once: neither is copied.
 */
export function copyCell(draft, key, count) {
  let { next } = draft;
  const first = cellOf(draft, key);
  const [taken, labels] = [numbers(draft), tags(draft)];
  const names = new Set(draft.cells.map((cell) => cell.name));
  const copies = [];
  let last = first;
  for (let n = 0; n < count; n += 1) {
    const number = nextFree(last.number, taken);
    const name = first.name ? nextFree(last.name, names) : "";
    taken.add(number);
    names.add(name);
    const apparatus = first.apparatus
      .filter((one) => one.kind !== BUS)
      .map((one) => {
        const label = tagFor(one.label, first.number, number, labels);
        labels.add(label);
        const { serial, ...plate } = one.plate;
        return { ...newApparatus(`a${next++}`, one.kind, label), plate };
      });
    last = { ...first, key: `c${next++}`, id: null, number, name, tie_to: null, apparatus };
    copies.push(last);
  }
  const cells = draft.cells.toSpliced(placeOf(draft, key) + 1, 0, ...copies);
  return { ...draft, cells, next, added: copies[0]?.key ?? key };
}

/** The draft with a cell at another place from the left; far from its section it joins. */
export function moveCell(draft, key, to) {
  const from = placeOf(draft, key);
  const place = Math.max(0, Math.min(to, draft.cells.length - 1));
  if (from === -1 || from === place) return draft;
  const cells = draft.cells.toSpliced(from, 1);
  const beside = [cells[place - 1], cells[place]].filter(Boolean).map((cell) => cell.bus);
  const cell = draft.cells[from];
  const bus = beside.includes(cell.bus) ? cell.bus : beside[0];
  const moved = { ...cell, bus, tie_to: cell.tie_to === bus ? null : cell.tie_to };
  return settleBuses({ ...draft, cells: cells.toSpliced(place, 0, moved) });
}

/** The draft without a cell; the bus of its section goes on to the section's next cell. */
export function removeCell(draft, key) {
  const gone = cellOf(draft, key);
  const cells = draft.cells.filter((cell) => cell.key !== key);
  const heir = cells.findIndex((cell) => cell.bus === gone.bus);
  const bus = gone.apparatus.filter((one) => one.kind === BUS);
  if (heir === -1 || !bus.length) return { ...draft, cells };
  const held = { ...cells[heir], apparatus: [...bus, ...cells[heir].apparatus] };
  return { ...draft, cells: cells.with(heir, held) };
}

/** The draft with a cell's number changed, and with it the tags that end in it. */
export function renumber(draft, key, number) {
  const cell = cellOf(draft, key);
  const others = tags({ cells: draft.cells.filter((one) => one !== cell) });
  const apparatus = cell.apparatus.map((one) => {
    const follows = number && endsIn(one.label, cell.number);
    return follows ? { ...one, label: tagFor(one.label, cell.number, number, others) } : one;
  });
  const cells = draft.cells.map((one) => (one === cell ? { ...cell, number, apparatus } : one));
  return { ...draft, cells };
}

/** The draft with its cells numbered 1, 2, 3 ... from the left, and their tags with them. */
export function numberFromLeft(draft) {
  const cells = draft.cells.map((cell, at) => {
    const number = String(at + 1);
    const apparatus = cell.apparatus.map((one) =>
      endsIn(one.label, cell.number)
        ? { ...one, label: one.label.slice(0, -cell.number.length) + number }
        : one,
    );
    return { ...cell, number, apparatus };
  });
  return { ...draft, cells };
}

function endsIn(label, number) {
  return Boolean(number) && (label.endsWith(`-${number}`) || label.endsWith(` ${number}`));
}

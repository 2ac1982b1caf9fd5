// The lineup as it is being entered: plain values that are never changed, only followed.
//
// It is the draft of models/record/lineup_draft.py. While it is edited each cell and each
// apparatus has a `key` of this page besides, since a new one has no `id` yet; `next` is
// the number of the next key, and `typed` keeps a text that cannot be read as a value.

/** The draft as the editor holds it. */
export function opened(plain) {
  let next = 1;
  const cells = plain.cells.map((cell) => ({
    ...cell,
    key: `c${next++}`,
    apparatus: cell.apparatus.map((one) => ({ typed: {}, ...one, key: `a${next++}` })),
  }));
  return { typed: {}, ...plain, cells, next };
}

/** The draft as it is sent: what the page alone knows is left out. */
export function plain(draft) {
  const { name, gear, ratings, sections } = draft;
  const cells = draft.cells.map(({ id, number, name, kind, bus, tie_to, apparatus }) => ({
    id,
    number,
    name,
    kind,
    bus,
    tie_to,
    apparatus: apparatus.map(({ id, kind, label, plate }) => ({ id, kind, label, plate })),
  }));
  return { name, gear, ratings, sections, cells };
}

/** The draft as it is kept on this device: with the texts that cannot be read. */
export function keepable({ next, ...draft }) {
  return draft;
}

/** An empty floor. */
export function bare(gear = "metal_clad") {
  return opened({
    name: "",
    gear,
    ratings: {},
    sections: [{ name: "bus", rated_a: null }],
    cells: [],
  });
}

/** The place of a cell from the left, from 0; -1 where there is none. */
export function placeOf(draft, key) {
  return draft.cells.findIndex((cell) => cell.key === key);
}

/** The cell of this key. */
export function cellOf(draft, key) {
  return draft.cells.find((cell) => cell.key === key);
}

/** The apparatus of this key. */
export function apparatusOf(draft, key) {
  return every(draft).find((one) => one.key === key);
}

/** Every apparatus, from the left. */
export function every(draft) {
  return draft.cells.flatMap((cell) => cell.apparatus);
}

/** The numbers of all cells. */
export function numbers(draft) {
  return new Set(draft.cells.map((cell) => cell.number));
}

/** The tags of all apparatus. */
export function tags(draft) {
  return new Set(every(draft).map((one) => one.label));
}

/** The draft with some of a cell changed. */
export function withCell(draft, key, change) {
  const cells = draft.cells.map((cell) => (cell.key === key ? { ...cell, ...change } : cell));
  return { ...draft, cells };
}

/** The draft with each apparatus of *keys* put through *change*. */
export function withApparatus(draft, keys, change) {
  const wanted = new Set(keys);
  const cells = draft.cells.map((cell) =>
    cell.apparatus.some((one) => wanted.has(one.key))
      ? { ...cell, apparatus: cell.apparatus.map((o) => (wanted.has(o.key) ? change(o) : o)) }
      : cell,
  );
  return { ...draft, cells };
}

/** An apparatus of which nothing is known yet. */
export function newApparatus(key, kind, label) {
  return { key, id: null, kind, label, plate: {}, typed: {} };
}

// How this lineup tags its apparatus: a new tag is like those that are there.

/** The pattern of a tag, `{n}` being the cell's number: learned, else *usual* without a prefix. */
export function learned(draft, kind, usual) {
  for (const cell of draft.cells.toReversed()) {
    const one = cell.apparatus.find((held) => held.kind === kind && held.label.endsWith(cell.number));
    if (one && cell.number) return `${one.label.slice(0, -cell.number.length)}{n}`;
  }
  return usual.replace("{p}", "");
}

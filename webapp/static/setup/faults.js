// Where a fault belongs: the server counts from the left, the page knows keys.

const IN_CELL = /^cells\.(\d+)(?:\.apparatus\.(\d+))?(?:\.(.+))?$/;

/**
 * Return [{place, cell, apparatus, message}]: *place* is that of the field on the page,
 * `c3.number`, `a7.plate.serial` or `lineup.name`; *cell* and *apparatus* are keys or null.
 */
export function placed(draft, faults) {
  return faults.map(({ field, message }) => ({ message, ...placeOf(draft, field) }));
}

function placeOf(draft, field) {
  const found = IN_CELL.exec(field);
  const cell = found && draft.cells[Number(found[1])];
  if (!cell) return { place: `lineup.${field}`, cell: null, apparatus: null };
  const [, , at, rest = ""] = found;
  const apparatus = at === undefined ? null : cell.apparatus[Number(at)];
  const key = apparatus ? apparatus.key : cell.key;
  return { place: `${key}.${rest}`, cell: cell.key, apparatus: apparatus?.key ?? null };
}

/** Return what is typed and cannot be read, in the same form, `short` at its field; *why(field, text)* says it. */
export function unread(draft, why) {
  const cells = draft.cells.flatMap((cell) =>
    cell.apparatus.flatMap((one) =>
      Object.entries(one.typed).map(([field, text]) => ({
        place: `${one.key}.plate.${field}`,
        cell: cell.key,
        apparatus: one.key,
        ...said(`Cell ${cell.number}, ${one.label}`, why(field, text)),
      })),
    ),
  );
  const lineup = Object.entries(draft.typed).map(([field, text]) => ({
    place: `lineup.ratings.${field}`,
    cell: null,
    apparatus: null,
    ...said("The lineup", why(field, text)),
  }));
  return [...lineup, ...cells];
}

function said(where, short) {
  return { short, message: `${where}: ${short}` };
}

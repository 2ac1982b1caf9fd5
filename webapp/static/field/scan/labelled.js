// What a label's code opens: a card or a cell of this round, else an address of ours.

const LABEL = /\/a\/([0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12})$/;

/** The identifier in a label's text; null where it is no label of this program. */
export function labelledId(text) {
  return LABEL.exec(text.trim().toLowerCase())?.[1] ?? null;
}

/** Where the label of *id* leads in this round: "#/cards/…", "#/cells/…" or null. */
export function placeInRound(doc, id) {
  const own = doc.cards.filter((card) => card.apparatus.id === id);
  if (own.length === 1) return `#/cards/${own[0].id}`;
  const cell = own[0]?.cell_id ?? doc.cells.find((one) => one.id === id)?.id;
  return cell ? `#/cells/${cell}` : null;
}

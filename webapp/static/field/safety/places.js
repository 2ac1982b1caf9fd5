// Where things are: the lineup and bus section of a cell, the cell of a card.

export class Places {
  constructor(lineups, cells) {
    this.lineups = lineups;
    this.cellOf = cells;
    this.lineupOf = new Map();
    for (const [lineup, one] of Object.entries(lineups)) {
      for (const cell of Object.keys(one.cells)) this.lineupOf.set(cell, lineup);
    }
    this.cardsOf = new Map();
    for (const [card, cell] of Object.entries(cells)) {
      if (cell !== null) this.cardsOf.set(cell, [...this.cards(cell), card]);
    }
  }

  cell(card) {
    return this.cellOf[card] ?? null;
  }

  cards(cell) {
    return this.cardsOf.get(cell) ?? [];
  }

  lineup(cell) {
    return this.lineupOf.get(cell) ?? null;
  }

  lineupOfCard(card) {
    return this.lineup(this.cell(card));
  }

  /** The cells of a bus section, or of the whole lineup without one. */
  section(lineup, section) {
    const cells = Object.entries(this.lineups[lineup]?.cells ?? {});
    return cells.filter(([, { bus }]) => section === null || section === (bus ?? null)).map(([cell]) => cell);
  }
}

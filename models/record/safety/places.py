"""Where things are: the lineup and bus section of a cell, the cell of a card."""

from collections.abc import Mapping
from typing import Any

Json = Mapping[str, Any]


class Places:
    """Cells by lineup and section, cards by cell, as the book has them."""

    def __init__(self, lineups: Json, cells: Mapping[str, str | None]) -> None:
        self._lineups = lineups
        self._cell_of = cells
        self._lineup_of = {
            cell: lineup for lineup, one in lineups.items() for cell in one["cells"]
        }
        self._cards: dict[str, list[str]] = {}
        for card, cell in cells.items():
            if cell is not None:
                self._cards.setdefault(cell, []).append(card)

    def cell(self, card: str) -> str | None:
        """Return the cell of a card."""
        return self._cell_of.get(card)

    def cards(self, cell: str) -> list[str]:
        """Return the cards of a cell."""
        return self._cards.get(cell, [])

    def lineup(self, cell: str | None) -> str | None:
        """Return the lineup that a cell stands in."""
        return None if cell is None else self._lineup_of.get(cell)

    def lineup_of_card(self, card: str) -> str | None:
        """Return the lineup that a card's cell stands in."""
        return self.lineup(self.cell(card))

    def section(self, lineup: str, section: str | None) -> list[str]:
        """Return the cells of a bus section, or of the whole lineup without one."""
        cells = self._lineups.get(lineup, {"cells": {}})["cells"]
        return [c for c, one in cells.items() if section in (None, one.get("bus"))]

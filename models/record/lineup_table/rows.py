"""A row of a table with its place, and the faults that are said of it."""

from collections.abc import Sequence
from typing import NamedTuple

from models.errors import Fault

Row = tuple[int, Sequence[tuple[str, str]]]
ALPHABET = 26


class Place(NamedTuple):
    """Where a cell stands: the sheet (none: a CSV file), row from 1, column from 0."""

    sheet: str
    row: int
    column: int = 0

    def words(self) -> str:
        """Return the place as people find it: Apparatus, row 7, column G."""
        said = f"row {self.row}, column {_letters(self.column)}"
        return f"{self.sheet}, {said}" if self.sheet else said

    def at(self, column: int) -> "Place":
        """Return the cell of the same row in *column*."""
        return Place(self.sheet, self.row, column)


class Cells(NamedTuple):
    """A row: its place, and its cells as (text, what is wrong)."""

    place: Place
    cells: Sequence[tuple[str, str]]


class Said:
    """Faults by their place, and where each part of the draft stands."""

    def __init__(self, begin: Place) -> None:
        """Begin with none; *begin* is where what is missing is looked for."""
        self._begin = begin
        self.faults: list[tuple[Place, str]] = []
        self._stands: dict[str, Place] = {}

    def fault(self, place: Place, message: str) -> None:
        """Keep a fault."""
        self.faults.append((place, message))

    def stands(self, part: str, place: Place) -> None:
        """Keep where a part of the draft (`cells.3.number`) stands."""
        self._stands[part] = place

    def draft_faults(self, faults: Sequence[Fault]) -> None:
        """Keep the faults of a draft where their parts stand, and no place twice."""
        known = {place for place, _ in self.faults}
        for one in faults:
            place = self._place(one.field)
            if place not in known:
                self.fault(place, one.message)

    def in_order(self, most: int) -> list[Fault]:
        """Return the first faults, row by row; the last line counts the others."""
        found = sorted(dict.fromkeys(self.faults), key=self._order)
        said = [Fault(field=place.words(), message=m) for place, m in found[:most]]
        if len(found) > most:
            message = f"{len(found) - most} more faults are not listed."
            said.append(Fault(field="the file", message=message))
        return said

    def _order(self, one: tuple[Place, str]) -> tuple[bool, int, int]:
        """Return the order: the sheet that the file begins with goes first."""
        place = one[0]
        return place.sheet != self._begin.sheet, place.row, place.column

    def _place(self, part: str) -> Place:
        """Return where *part* stands; else what it is a part of."""
        while part and part not in self._stands:
            part = part.rpartition(".")[0]
        return self._stands.get(part) or self._begin


def _letters(column: int) -> str:
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, ALPHABET)
        letters = chr(ord("A") + rest) + letters
    return letters

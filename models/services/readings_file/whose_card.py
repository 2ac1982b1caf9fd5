"""Whose card a row of a table for several cards belongs to."""

from collections.abc import Callable, Iterable, Sequence

from models.errors import Fault, InputError
from models.procedures import PROCEDURES
from models.record.readings_table import Columns, ReadRow
from models.schema import Card
from models.services.field.card_facts import CardFacts
from models.words import in_sentence

SHOWN = 6  # names that one sentence has room for


class Cards:
    """The cards of one procedure in a round, found by what a row says."""

    def __init__(
        self, every: Sequence[Card], facts: Sequence[CardFacts], columns: Columns
    ) -> None:
        """*every*: all cards of the round. InputError where no column says whose."""
        self.facts, self.columns = facts, columns
        self.cells = {name for card in every for name in cell_names(card)}
        self.kind = in_sentence(PROCEDURES[columns.test].title)
        if columns.cell is None and columns.apparatus is None and len(facts) > 1:
            said = "Choose the column of the cell, of the apparatus, or both."
            raise InputError(Fault(field="cell", message=said))

    def of(self, row: ReadRow) -> CardFacts | None:
        """Return the card of a row; None where it is not sure, with a fault."""
        fits = self._in_cell(row, self.facts)
        fits = self._on_apparatus(row, fits) if fits else fits
        fits = [one for one in fits if one.state != "withdrawn"] or fits
        if len(fits) > 1:
            fits = _with_point(row, fits) or fits
        if len(fits) > 1:
            said = f"Several cards fit: {_some(_name(one.card) for one in fits)}."
            row.faults.append((None, f"{said} Choose a column that tells them apart."))
        return fits[0] if len(fits) == 1 else None

    def _in_cell(self, row: ReadRow, among: Sequence[CardFacts]) -> Sequence[CardFacts]:
        at = self.columns.cell
        if at is None:
            return among
        if not row.cell:
            return _wrong(row, at, "The cell is missing.")
        fits = _called(among, row.cell, cell_names)
        if fits:
            return fits
        if not {said_name(row.cell)} & self.cells:
            return _wrong(row, at, f"No cell of this round is called “{row.cell}”.")
        return _wrong(row, at, f"Cell “{row.cell}” has no card of {self.kind}.")

    def _on_apparatus(
        self, row: ReadRow, among: Sequence[CardFacts]
    ) -> Sequence[CardFacts]:
        at = self.columns.apparatus
        if at is None:
            return among
        if not row.apparatus:
            return _wrong(row, at, "The apparatus is missing.")
        fits = _called(among, row.apparatus, apparatus_names)
        if fits:
            return fits
        where = "the cell" if self.columns.cell is not None else "the round"
        there = _some(one.card.apparatus.label for one in among)
        said = (
            f"No “{row.apparatus}” with a card of {self.kind} in {where}, but {there}."
        )
        return _wrong(row, at, said)


def cell_names(card: Card) -> set[str]:
    """Return what a table may call a card's cell: number, name, both."""
    number, name = card.cell.number, card.cell.name
    return {said_name(one) for one in (number, name, f"{number} {name}") if one}


def apparatus_names(card: Card) -> set[str]:
    """Return what a table may call a card's apparatus: its label, with kind or not."""
    label = card.apparatus.label
    kind = card.apparatus.kind.replace("_", " ")
    return {said_name(label), said_name(label).removeprefix(f"{kind} ")}


def said_name(text: str) -> str:
    """Return a name without what does not count: capitals, spaces, *cell* before it."""
    plain = " ".join(text.replace("·", " ").split()).casefold()
    return plain.removeprefix("cell ")


def _called(
    among: Sequence[CardFacts], text: str, names: Callable[[Card], set[str]]
) -> list[CardFacts]:
    return [one for one in among if said_name(text) in names(one.card)]


def _with_point(row: ReadRow, among: Sequence[CardFacts]) -> list[CardFacts]:
    wanted = row.point.casefold()
    return [
        one
        for one in among
        if any(" ".join(p.label.split()).casefold() == wanted for p in one.card.points)
    ]


def _wrong(row: ReadRow, at: int, said: str) -> list[CardFacts]:
    row.faults.append((at, said))
    return []


def _name(card: Card) -> str:
    return f"cell {card.cell.number} {card.apparatus.label}"


def _some(names: Iterable[str]) -> str:
    every = list(dict.fromkeys(names))
    more = len(every) - SHOWN
    return ", ".join(every[:SHOWN]) + (f" and {more} more" if more > 0 else "")

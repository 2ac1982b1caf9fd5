"""What the program knows of the planned work: lineups, their cells, their cards."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from models.procedures import PROCEDURES


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedCard:
    """A card: its procedure, the apparatus with its kind, and the cell it is done in.

    *known*: facts of a card (`models.criteria.safety.words`) that are known besides
    those that follow from gear and kind.
    """

    id: str
    procedure: str
    apparatus: str
    kind: str
    cell: str | None
    known: Mapping[str, bool] = field(default_factory=dict)

    @property
    def groups(self) -> set[str]:
        """The groups of safety lines that it may be asked of."""
        return set(PROCEDURES[self.procedure].safety.groups.values())


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkCell:
    """A cell: its bus section, the kinds of apparatus in it, what it is *drawn* with.

    *known*: facts of a cell that are known besides.
    """

    id: str
    bus: str
    kinds: Sequence[str]
    drawn: str = ""  # as the elevation draws it: models.procedures.plates
    known: Mapping[str, bool] = field(default_factory=dict)

    @property
    def stands_in_it(self) -> set[str]:
        """The kinds of apparatus in it, that which it is drawn with included."""
        drawn = "breaker" if self.drawn == "bus_tie" else self.drawn
        return {*self.kinds, drawn} - {""}


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """The work on one lineup.

    *known*: facts of the clearance that are known, such as `carried_load`: False for
    the acceptance of new gear, True for maintenance. What is not known counts as so.
    """

    gear: str
    cells: Sequence[WorkCell]
    cards: Sequence[PlannedCard]
    known: Mapping[str, bool] = field(default_factory=dict)

    def cell(self, cell: str | None) -> WorkCell | None:
        """Return the cell of this id, or None."""
        return next((one for one in self.cells if one.id == cell), None)

    def cards_in(self, cell: WorkCell) -> list[PlannedCard]:
        """Return the cards that are done in *cell*."""
        return [card for card in self.cards if card.cell == cell.id]

    def cards_on_bus(self, bus: str) -> Iterator[PlannedCard]:
        """Yield the cards that are done in the cells of a bus section."""
        cells = {cell.id for cell in self.cells if cell.bus == bus}
        yield from (card for card in self.cards if card.cell in cells)


def groups_of(cards: Sequence[PlannedCard]) -> set[str]:
    """Return the groups of safety lines that *cards* may be asked of."""
    return {group for card in cards for group in card.groups}

"""What ratings are compared with: the draft, the tables, and who stands where."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from models.judging import Criteria
from models.judging.tables import Row, Table, provenance_of
from models.record.lineup_draft import ApparatusDraft, CellDraft, LineupDraft
from models.record.ratings.remark import Finding, cited, practice

# What carries and breaks the current of a bus.
SWITCHING = (
    "breaker",
    "switch",
    "fused_switch",
    "three_position_switch",
    "contactor",
)
LEAST_SURE_FIRST = ("memory", "practice", "computed")


class Held(NamedTuple):
    """An apparatus of the draft, with its cell and its place."""

    place: str
    cell: CellDraft
    one: ApparatusDraft

    def value(self, name: str) -> float | None:
        """Return a number of its nameplate; None: not given."""
        return number(self.one.plate, name)

    def found(self, name: str, sentence: str, cite: str = "", **parts: str) -> Finding:
        """Return the finding *sentence* on its field *name*; no *cite*: practice."""
        place = f"{self.place}.plate.{name}"
        return Finding(place, self.one.label, sentence, parts, cite or practice())


@dataclass(frozen=True, slots=True)
class Compared:
    """A draft beside the published tables."""

    draft: LineupDraft
    criteria: Criteria
    held: Sequence[Held]

    def rating(self, name: str) -> float | None:
        """Return a number of the lineup's own ratings; None: not given."""
        return number(self.draft.ratings, name)

    def bus_a(self, section: str) -> float | None:
        """Return the rated current of a bus section in A, else the lineup's."""
        for one in self.draft.sections:
            if one.name == section and one.rated_a is not None:
                return one.rated_a
        return self.rating("rated_a")

    def of_kind(self, *kinds: str) -> Iterator[Held]:
        """Yield the apparatus of *kinds*, from the left."""
        return (one for one in self.held if one.one.kind in kinds)

    def table(self, key: str) -> Table:
        """Return a published table."""
        return self.criteria.table(key)


def compared(draft: LineupDraft, criteria: Criteria) -> Compared:
    """Return *draft* with the places of its apparatus worked out."""
    held = [
        Held(f"cells.{c}.apparatus.{a}", cell, one)
        for c, cell in enumerate(draft.cells)
        for a, one in enumerate(cell.apparatus)
    ]
    return Compared(draft, criteria, held)


def number(plate: Mapping[str, Any], name: str) -> float | None:
    """Return the number *name* of a nameplate; None where there is none."""
    value = plate.get(name)
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    return float(value)


def cite_figures(table: Table, row: Row, *columns: str) -> str:
    """Return where figures of *row* come from: as sure as the least sure of them."""
    known = [provenance_of(row, column) for column in columns if column in row]
    known = known or [row["provenance"]]
    return cited({**table.cite(row), "provenance": _least_sure(known)})


def cite_list(table: Table, rows: Sequence[Row], column: str, note: str = "") -> str:
    """Return where figures of one column come from, some rows together."""
    if len(rows) == 1 and not note:
        return cite_figures(table, rows[0], column)
    known = [provenance_of(row, column) for row in rows]
    cite = {
        "document": table.document,
        "edition": table.edition,
        "table": table.table,
        "row": "",
        "provenance": _least_sure(known),
        "note": note,
    }
    return cited(cite)


def _least_sure(known: Sequence[str]) -> str:
    return next((word for word in LEAST_SURE_FIRST if word in known), known[0])

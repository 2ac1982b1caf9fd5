"""Notes as a criterion is compiled: each with its sources, given places in a rule."""

from collections.abc import Sequence
from typing import Any, NamedTuple

from models.judging.parts import Part
from models.judging.tables import Table


class Made(NamedTuple):
    """A note that is to go into a rule, and the sources that it cites."""

    note: dict[str, Any]
    sources: Sequence[dict[str, Any]]


def placed(cites: list[Part], *made: Made | None) -> Sequence[Part]:
    """Return the notes with their sources' places, and add these to *cites*."""
    notes = []
    for one in made:
        if one is None:
            continue
        places = [_place(cites, source) for source in one.sources]
        notes.append({**one.note, "cite": places})
    return notes


def _place(cites: list[Part], source: Part) -> int:
    """Return the place of *source*; what only notes cite says that it is beside."""
    if source in cites:
        return cites.index(source)
    beside = {**source, "beside": True}
    if beside not in cites:
        cites.append(beside)
    return cites.index(beside)


def value_of(table: Table, name: str) -> tuple[float, dict[str, Any]]:
    """Return the value of the row *name*, and where it comes from."""
    row = next(row for row in table.rows if row["row"] == name)
    return row["value"], table.cite(row)

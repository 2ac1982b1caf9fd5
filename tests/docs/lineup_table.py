"""Write the rows of docs/lineup-table.md that the table of fields says.

python -m tests.docs.lineup_table
"""

from collections.abc import Iterator
from pathlib import Path

from models.fields import Field, Kind
from models.procedures.plates import (
    LINEUP,
    apparatus_kinds,
    cell_kinds,
    plate_fields,
    plate_names,
)
from models.record.lineup_table.headings import heading, table_fields

PAGE = Path(__file__).resolve().parents[2] / "docs" / "lineup-table.md"
OF_THE_LINEUP, COLUMNS = "## What holds of the lineup", "## The columns"
OWN = {
    "Cell": "number of the cell; needed in the first row of a cell",
    "Cell name": "what it feeds or does; needed",
    "Drawn as": f"its symbol; needed: {', '.join(cell_kinds().values())}",
    "Bus section": "name of a section that *Lineup* lists; needed",
    "Ties to": "name of the other section, for a tie",
    "Apparatus": ", ".join(kind.label for kind in apparatus_kinds().values()),
    "Label": "what it is called on site; needed with *Apparatus*",
    "Cell id": "blank for a new cell",
    "Apparatus id": "blank for a new apparatus",
}


def page() -> str:
    """Return the page with its two tables."""
    before = PAGE.read_text("utf-8").partition(OF_THE_LINEUP)[0]
    lines = [OF_THE_LINEUP, "", *_of_the_lineup(), "", COLUMNS, "", *_columns()]
    return before + "\n".join(lines) + "\n"


def _of_the_lineup() -> Iterator[str]:
    yield from ("| line | field | what it holds |", "|---|---|---|")
    yield "| Lineup | | its name; needed |"
    yield "| Gear | `gear` | its kind; needed |"
    for one in plate_fields(LINEUP):
        yield f"| {heading(one)} | `{one.name}` | {_holds(one)} |"
    yield "| Bus section | | its name; in the third cell its rated current in A |"


def _columns() -> Iterator[str]:
    yield from ("| column | field | what it holds | of |", "|---|---|---|---|")
    for name, holds in OWN.items():
        yield f"| {name} | | {holds} | |"
    for one in table_fields():
        yield f"| {heading(one)} | `{one.name}` | {_holds(one)} | {_kinds(one)} |"


def _holds(one: Field) -> str:
    if one.kind is Kind.CHOICE:
        return ", ".join(one.choice_words(choice) for choice in one.choices)
    if one.kind is Kind.YES_NO:
        return "yes, no"
    if one.kind is Kind.TEXT:
        return "text"
    units = f"; or in {', '.join(one.read)}" if one.read else ""
    many = "numbers, a blank between them, each " if one.many else ""
    return f"{many}{one.allowed or 'any number'}{units}"


def _kinds(one: Field) -> str:
    kinds = [
        k.label for n, k in apparatus_kinds().items() if one.name in plate_names(n)
    ]
    return "all" if len(kinds) == len(apparatus_kinds()) else ", ".join(kinds)


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8")

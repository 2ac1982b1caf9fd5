"""Cards that answer one question together, after the cards themselves."""

from collections.abc import Iterator, Mapping
from typing import Any

from webapp.pdf.sheets import Sheets
from webapp.pdf.tables import Cell, Column, table

Doc = Mapping[str, Any]
TITLE = "Read together"
COLUMNS = (
    Column(head="Question", share=2.4, style="small-ink"),
    Column(head="Where its cards stand", share=4.2, style="small-ink"),
    Column(head="What follows from all", share=3.6, style="small-ink"),
)


def read_together(sheets: Sheets, document: Doc) -> None:
    """List each question, its cards, and what follows; none of cards withdrawn."""
    found = [one for one in document.get("together", ()) if one["members"]]
    if not found:
        return
    sheets.gap(14)
    sheets.need(90)
    sheets.mark(TITLE, 0)
    sheets.text(TITLE, "title")
    sheets.y += 5
    table(sheets, list(COLUMNS), [_row(one) for one in found])


def _row(one: Doc) -> list[Cell]:
    shown = "\n".join(f"{label} {value}" for label, value in one["shown"])
    head = f"{one['title']}\nCell {one['cell']}"
    return [
        f"{head}\n{shown}" if shown else head,
        "\n".join(_members(one)),
        "\n".join([*one["lacks"], *one["follows"]]),
    ]


def _members(one: Doc) -> Iterator[str]:
    for member in one["members"]:
        said = " · ".join(filter(None, (member["last"], member["open"])))
        yield f"{member['title']}, {member['apparatus']}: {said}"

"""The safety sheet of a round, to print and to sign, for sites that want paper.

What is on record stands on it already; everything else is a blank to write on.
"""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from webapp.pdf import times
from webapp.pdf.archive import to_archive
from webapp.pdf.form_paint import paint_form
from webapp.pdf.form_rows import form_lines, form_table, height_of
from webapp.pdf.sheets import Sheets

NO_RECORD = (
    "This sheet is no record until what is written on it is typed into the tablet, by "
    "name and with its time, or a picture of it is attached to the round."
)
FOOT = "Safety sheet: no record until typed in, or attached as a picture"
STOP = (
    "Stop by voice and at the switch first, then write it here; a person named in G25b "
    "releases it."
)

Doc = Mapping[str, Any]


def render_safety_sheets(document: Doc) -> bytes:
    """Return the sheets as PDF/A-3b; the same document gives the same bytes."""
    sheets = Sheets()
    for crew in document["crews"]:
        _crew(sheets, document, crew)
    for isolation in document["isolations"]:
        _isolation(sheets, document, isolation)
        _return(sheets, isolation)
    _points(sheets, document)
    site, lineup = document["site"]["name"], document["lineup"]["name"]
    printed = times.at(document["made_at"], document["zone"])
    return to_archive(
        paint_form(sheets, document, f"{FOOT} · printed {printed}"),
        title=f"Safety sheet, {site}, lineup {lineup}, {document['round']['title']}",
        author=site,
        made_at=datetime.fromisoformat(document["made_at"]),
        attachments=(),
    )


def _begin(sheets: Sheets, document: Doc, title: str, facts: Sequence[str]) -> None:
    """Open a sheet: its title, what it is about, and whose rules govern."""
    sheets.begin(title)
    sheets.text(title, "heading")
    said = " · ".join(filter(None, facts))
    if said:
        sheets.text(said, "body")
    sheets.text(f"{document['rule_set_text']} {document['governs']}".strip(), "small")
    if len(sheets.pages) == 1:
        sheets.text(NO_RECORD, "small-strong")
    sheets.y += 4


def _crew(sheets: Sheets, document: Doc, crew: Doc) -> None:
    _begin(sheets, document, crew["title"], crew["facts"])
    form_lines(sheets, crew["lines"], "Once for the shift")
    for grid in crew["tables"]:
        _table(sheets, grid)
    sheets.need(80)
    sheets.gap(4)
    sheets.text(STOP, "small-strong")
    form_table(sheets, document["stops"])


def _table(sheets: Sheets, grid: Doc) -> None:
    sheets.heading(grid["name"], "subheading", 60)
    for words in grid["said"]:
        sheets.text(words, "small")
    form_table(sheets, grid)


def _isolation(sheets: Sheets, document: Doc, isolation: Doc) -> None:
    _begin(sheets, document, isolation["title"], isolation["facts"])
    form_lines(sheets, isolation["lines"], "Once for the clearance, by its holder")
    for grid in isolation["tables"]:
        _table(sheets, grid)


def _points(sheets: Sheets, document: Doc) -> None:
    if not document["points"]:
        return
    _begin(sheets, document, "Point of work", ())
    for point in document["points"]:
        sheets.heading(point["title"], "subheading", height_of(point["lines"]))
        if point["facts"]:
            sheets.text(" · ".join(point["facts"]), "small")
        form_lines(sheets, point["lines"])
        sheets.y += 6


def _return(sheets: Sheets, isolation: Doc) -> None:
    """Put down what is put back and counted before a clearance is released."""
    for grid in isolation["return_tables"]:
        _table(sheets, grid)
    sheets.heading("Before the clearance is released", "subheading", 60)
    form_lines(sheets, isolation["returning"])

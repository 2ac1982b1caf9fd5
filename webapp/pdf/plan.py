"""What was planned otherwise than the programme has it, and the editions named."""

from collections.abc import Mapping, Sequence
from typing import Any

from webapp.pdf import times
from webapp.pdf.sheets import Sheets
from webapp.pdf.tables import Cell, Column, table

Doc = Mapping[str, Any]

CHANGED = (
    Column(head="Card", share=3.0, style="small-ink"),
    Column(head="What is otherwise, and why", share=3.6, style="small-ink"),
    Column(head="By", share=1.6, style="small-ink"),
)
EDITIONS = (
    Column(head="Table", share=2.4, style="small-ink"),
    Column(head="Edition that the round was planned by", share=3.4, style="small-ink"),
    Column(head="Named by", share=2.4, style="small-ink"),
)
WORDS = {"left_out": "Left out", "added": "Added", "points": "Other points"}


def left_out(sheets: Sheets, document: Doc) -> None:
    """List on the cover what the programme has and the round was planned without."""
    found = [c for c in _changes(document) if c["what"] == "left_out"]
    if found:
        sheets.heading("Left out of the programme")
        table(sheets, list(CHANGED), [_row(one, document["zone"]) for one in found])


def plan(sheets: Sheets, document: Doc) -> None:
    """List the cards that were added or given other points, and the editions."""
    changed = [c for c in _changes(document) if c["what"] != "left_out"]
    if changed:
        _title(sheets, "Planned otherwise than the programme")
        table(sheets, list(CHANGED), [_row(one, document["zone"]) for one in changed])
    editions = document.get("plan", {}).get("editions", ())
    if editions:
        _title(sheets, "Editions asked for when the round was planned")
        table(sheets, list(EDITIONS), [_edition(one) for one in editions])


def _changes(document: Doc) -> Sequence[Doc]:
    found: Sequence[Doc] = document.get("plan", {}).get("changes", ())
    return found


def _title(sheets: Sheets, words: str) -> None:
    sheets.gap(14)
    sheets.need(90)
    sheets.mark(words, 0)
    sheets.text(words, "title")
    sheets.y += 5


def _row(change: Doc, zone: str) -> list[Cell]:
    return [
        f"{change['where']}\n{change['title']}: {change['detail']}",
        f"{WORDS[change['what']]}{_points(change)}. {change['reason']}",
        f"{change['by']}\n{times.at(change['at'], zone)}",
    ]


def _points(change: Doc) -> str:
    if change["what"] == "left_out":
        return ""
    now = ", ".join(change["points"])
    if change["what"] == "added":
        return f": {now}"
    return f": {now}; proposed were {', '.join(change['was'])}"


def _edition(one: Doc) -> list[Cell]:
    return [
        one["title"],
        one["cited_as"],
        one["document"] or "no document: the edition in use on the site",
    ]

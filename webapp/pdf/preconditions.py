"""The preconditions: each item once, and who confirmed it for which cards."""

from collections.abc import Mapping
from typing import Any

from webapp.pdf import times
from webapp.pdf.numbering import runs
from webapp.pdf.sheets import Sheets
from webapp.pdf.tables import Cell, Column, table

COLUMNS = (
    Column(head="Item", share=0.62, style="mono"),
    Column(
        head="What was to be confirmed, and its source", share=4.2, style="small-ink"
    ),
    Column(head="By whom, when, for which cards", share=3.2, style="small-ink"),
)
STATES = {"confirmed": "Confirmed", "not_applicable": "Not applicable"}

Doc = Mapping[str, Any]


def preconditions(sheets: Sheets, document: Doc) -> None:
    """Put down the sheet of preconditions."""
    sheets.begin("Preconditions")
    sheets.text("Preconditions", "title")
    sheets.y += 4
    sheets.text(
        "Each item is the statement of the person named, made for the cards named "
        "(numbers are those of the card sheets). The exact time of each is in "
        "record.json.",
        "second",
    )
    sheets.y += 6
    rows = [_row(key, found, document["zone"]) for key, found in _items(document)]
    if rows:
        table(sheets, COLUMNS, rows)
    else:
        sheets.text("No precondition has been answered.", "body-strong")


def _items(document: Doc) -> list[tuple[tuple[str, str, str], list[tuple[int, Doc]]]]:
    """Return ((code, text, source), [(card's sheet, confirmation)]) by code.

    An item whose text was changed during the round stands once for each text.
    """
    found: dict[tuple[str, str, str], list[tuple[int, Doc]]] = {}
    for card in document["cards"]:
        for one in card["preconditions"]:
            key = (one["code"], one["text"], one["source"])
            found.setdefault(key, []).append((card["sheet"], one))
    return sorted(found.items(), key=lambda item: _order(item[0][0]))


def _order(code: str) -> tuple[bool, bool, str]:
    """Sort the general list first and what follows the test last."""
    general, after = code[:1] == "G", code[:1] == "P"
    return (not general, after, code)


def _row(
    key: tuple[str, str, str], found: list[tuple[int, Doc]], zone: str
) -> list[Cell]:
    code, text, source = key
    groups: dict[tuple[str, str, str], list[tuple[int, Doc]]] = {}
    for sheet, one in found:
        group = (one["state"], one["by"], one["reason"] or "")
        groups.setdefault(group, []).append((sheet, one))
    said = [_said(group, members, zone) for group, members in groups.items()]
    source_line = f"\nSource: {source}" if source else ""
    return [code, f"{text}{source_line}", "\n".join(said)]


def _said(
    group: tuple[str, str, str], members: list[tuple[int, Doc]], zone: str
) -> str:
    state, by, reason = group
    when = times.span((one["at"] for _, one in members), zone)
    cards = runs(sheet for sheet, _ in members)
    because = f": {reason}" if reason else ""
    word = "card" if len({sheet for sheet, _ in members}) == 1 else "cards"
    return f"{STATES[state]} by {by}, {when}, {word} {cards}{because}."

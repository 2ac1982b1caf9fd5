"""Safety on one page: what stood, who said so, and what was not as usual.

Rows only: every statement with its wording is in the attached file. Meant to fit:
8 shifts, 3 clearances, 12 cells and 10 exceptions; beyond that the exceptions, which
stand last, run on.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from webapp.drawing.shapes import Text
from webapp.pdf import times
from webapp.pdf.faces import leading_of
from webapp.pdf.safety_words import (
    SHEET,
    cards_sentence,
    clearance_end,
    closed_words,
    crew_end,
    exception_words,
    standing_line,
)
from webapp.pdf.sheets import LEFT, RIGHT, WIDTH, Sheets, lines_of
from webapp.pdf.tables import Cell, Column, table

PAD = 1.0
GAP = 4.0  # before each part
LABEL = 56.0  # room for the name of a part that is one sentence
EACH = "Each line is the statement of the person named."

Doc = Mapping[str, Any]
Rows = Sequence[Sequence[Cell]]


def safety_page(sheets: Sheets, document: Doc) -> None:
    """Put down the page of a round that went by scopes."""
    safety, zone = document["safety"], document["zone"]
    sheets.begin(f"{SHEET} Safety")
    sheets.text(f"{SHEET} · Safety", "title")
    sheets.put(Text(RIGHT, sheets.y - 5, standing_line(safety), "body-strong", "end"))
    sheets.y += 2
    governs = " ".join(filter(None, (safety["rule_set_text"], safety["governs"])))
    sheets.text(f"{governs} {EACH} Times are the site's, {zone}.", "dense")
    _rows(sheets, "Crews", CREWS, [_crew(one, zone) for one in safety["crews"]])
    clearances = [_clearance(one, zone) for one in safety["clearances"]]
    _rows(sheets, "Clearances", CLEARANCES, clearances)
    _rows(sheets, "Cells", CELLS, [_cell(one, zone) for one in safety["cells"]])
    _sentence(sheets, "Cards", cards_sentence(safety["cards"]))
    _sentence(sheets, "Proof", _proof(safety))
    exceptions = [_exception(one, zone) for one in safety["exceptions"]]
    _rows(sheets, "Exceptions", EXCEPTIONS, exceptions)


def _columns(*parts: tuple[str, float]) -> list[Column]:
    return [Column(head=head, share=share, style="dense") for head, share in parts]


# Shares are points: they are of the width that the longest usual words take.
CREWS = _columns(
    *(("", 116), ("in charge", 56), ("with", 118), ("may release a stop", 94)),
    ("weather, air", 102),
)
CLEARANCES = _columns(
    *(("", 78), ("holder; from, to", 100), ("isolating points, locks", 176)),
    ("grounds, handed back", 132),
)
CELLS = _columns(
    *(("", 104), ("entered", 132), ("holder", 84), ("detector", 52)),
    *(("ground", 62), ("gas density", 52)),
)
EXCEPTIONS = _columns(("", 56), ("where", 62), ("what, and who said so", 368))


def _named(name: str, columns: Sequence[Column]) -> list[Column]:
    """Return the columns, the first with the name of the part for its head."""
    first = replace(columns[0], head=name, head_style="dense-head")
    return [first, *columns[1:]]


def _rows(sheets: Sheets, name: str, columns: Sequence[Column], rows: Rows) -> None:
    if not rows:
        _sentence(sheets, name, "None.")
        return
    sheets.gap(GAP)
    table(sheets, _named(name, columns), rows, PAD)


def _sentence(sheets: Sheets, name: str, words: str) -> None:
    """Put down a part that is one sentence, its name before it."""
    sheets.gap(GAP + 2)
    rows = lines_of(words, "dense", WIDTH - LABEL)
    leading = leading_of("dense")
    sheets.need(leading * len(rows))
    sheets.put(Text(LEFT, sheets.y + leading * 0.8, name, "dense-head"))
    for n, row in enumerate(rows):
        y = sheets.y + leading * (n + 0.8)
        sheets.put(Text(LEFT + LABEL, y, row, "dense"))
    sheets.y += leading * len(rows) + 2


def _crew(one: Doc, zone: str) -> list[Cell]:
    when = times.short_span(one["opened_at"], one["closed_at"], zone)
    return [
        f"Shift {one['shift']} · {when}{crew_end(one)}",
        one["in_charge"],
        ", ".join(name for name in one["people"] if name != one["in_charge"]),
        ", ".join(one["releasers"]),
        "; ".join((*one["weather"], *one["air"])),
    ]


def _clearance(one: Doc, zone: str) -> list[Cell]:
    return [
        f"{one['number']}, {one['section']}",
        f"{one['holder']}\n"
        + times.short_span(one["opened_at"], one["closed_at"], zone),
        "; ".join(one["points"]),
        f"Grounds: {one['grounds_on']} on, {one['grounds_off']} off.\n"
        + clearance_end(one, zone),
    ]


def _cell(one: Doc, zone: str) -> list[Cell]:
    return [
        f"{one['number']} {one['name']}",
        times.short_list(one["entered"], zone),
        ", ".join(one["holders"]),
        ", ".join(one["detectors"]),
        "; ".join(one["grounds"]),
        "; ".join(one["density"]),
    ]


def _exception(one: Doc, zone: str) -> list[Cell]:
    words = exception_words(one, zone)
    return [
        times.short(one["at"], zone),
        one["where"],
        f"{words}{closed_words(one['sheets'])} Said by {one['by']}.",
    ]


def _proof(safety: Doc) -> str:
    return (
        f"{safety['lines']} lines, each with wording, source, name, time and what was "
        f"noted, in the attached {safety['file']}. "
        f"SHA-256 of that file: {safety['digest']}"
    )

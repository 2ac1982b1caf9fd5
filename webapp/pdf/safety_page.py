"""Safety on one page: what stood, who said so, and what was not as usual.

Rows only: every statement with its wording is in the attached file. Meant to fit:
8 shifts, 3 clearances, 12 cells and 10 exceptions; beyond that the exceptions, which
stand last, run on. It is set as large as one page holds.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any, NamedTuple

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
    grounds_words,
    standing_line,
)
from webapp.pdf.sheets import LEFT, RIGHT, WIDTH, Sheets, lines_of
from webapp.pdf.tables import Cell, Column, table

LABEL = 62.0  # room for the name of a part that is one sentence
EACH = "Each line is the statement of the person named."

Doc = Mapping[str, Any]
Rows = Sequence[Sequence[Cell]]


class Look(NamedTuple):
    """How large the page is set: styles of text and of names, room round rows."""

    style: str
    name: str
    pad: float
    gap: float  # before each part


# The first with which all goes on one page is taken, else the last.
LOOKS = (
    Look("body", "subheading", 3.0, 9.0),
    Look("small-ink", "subheading", 2.0, 6.0),
    Look("dense", "dense-head", 1.0, 4.0),
)


def safety_page(sheets: Sheets, document: Doc) -> None:
    """Put down the page of a round that went by scopes."""
    _lay_out(sheets, document, next(filter(_fits(document), LOOKS), LOOKS[-1]))


def _fits(document: Doc) -> Callable[[Look], bool]:
    def on_one_page(look: Look) -> bool:
        trial = Sheets()
        _lay_out(trial, document, look)
        return len(trial.pages) == 1

    return on_one_page


def _lay_out(sheets: Sheets, document: Doc, look: Look) -> None:
    safety, zone = document["safety"], document["zone"]
    sheets.begin(f"{SHEET} Safety")
    sheets.text(f"{SHEET} · Safety", "title")
    sheets.put(Text(RIGHT, sheets.y - 5, standing_line(safety), "body-strong", "end"))
    sheets.y += 2
    governs = " ".join(filter(None, (safety["rule_set_text"], safety["governs"])))
    sheets.text(f"{governs} {EACH} Times are the site's, {zone}.", look.style)
    page = _Page(sheets, look)
    page.rows("Crews", CREWS, [_crew(one, zone) for one in safety["crews"]])
    clearances = [_clearance(one, zone) for one in safety["clearances"]]
    page.rows("Clearances", CLEARANCES, clearances)
    page.rows("Cells", CELLS, [_cell(one, zone) for one in safety["cells"]])
    page.sentence("Cards", cards_sentence(safety["cards"]))
    page.sentence("Proof", _proof(safety))
    exceptions = [_exception(one, zone) for one in safety["exceptions"]]
    page.rows("Exceptions", EXCEPTIONS, exceptions)


class _Page(NamedTuple):
    """The sheets, and how large they are set."""

    sheets: Sheets
    look: Look

    def rows(self, name: str, columns: Sequence[Column], rows: Rows) -> None:
        """Put down a part; its name stands as the head of the first column."""
        if not rows:
            self.sentence(name, "None.")
            return
        self.sheets.gap(self.look.gap)
        set_ = [replace(column, style=self.look.style) for column in columns]
        set_[0] = replace(set_[0], head=name, head_style=self.look.name)
        table(self.sheets, set_, rows, self.look.pad)

    def sentence(self, name: str, words: str) -> None:
        """Put down a part that is one sentence, its name before it."""
        sheets, style = self.sheets, self.look.style
        sheets.gap(self.look.gap + 2)
        rows = lines_of(words, style, WIDTH - LABEL)
        leading = leading_of(style)
        sheets.need(leading * len(rows))
        sheets.put(Text(LEFT, sheets.y + leading * 0.8, name, self.look.name))
        for n, row in enumerate(rows):
            y = sheets.y + leading * (n + 0.8)
            sheets.put(Text(LEFT + LABEL, y, row, style))
        sheets.y += leading * len(rows) + 2


def _columns(*parts: tuple[str, float]) -> list[Column]:
    return [Column(head=head, share=share) for head, share in parts]


# Shares are points: they are of the width that the longest usual words take.
CREWS = _columns(
    *(("", 122), ("in charge", 58), ("with", 114), ("may release a stop", 94)),
    ("weather, air", 98),
)
CLEARANCES = _columns(
    *(("", 78), ("holder; from, to", 100), ("isolating points, locks", 176)),
    ("grounds, handed back", 132),
)
CELLS = _columns(
    *(("", 100), ("entered", 130), ("holder", 82), ("detector", 58)),
    *(("ground", 62), ("gas density", 54)),
)
EXCEPTIONS = _columns(("", 70), ("where", 64), ("what, and who said so", 352))


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
        f"{grounds_words(one)}\n{clearance_end(one, zone)}",
    ]


def _cell(one: Doc, zone: str) -> list[Cell]:
    return [
        f"{one['number']} {one['name']}",
        times.short_list(one["entered"], zone),
        ", ".join(one["holders"]),
        ", ".join(one["detectors"]),
        ", ".join(one["grounds"]),
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

"""The signature sheet: a box for each seal, at places known beforehand.

The boxes stand on the last sheets, on a grid, whatever precedes them: so where
a signature goes follows from the document alone, without laying out its pages.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from webapp.drawing.shapes import Line, Rect, Text
from webapp.pdf import times
from webapp.pdf.faces import font_of, leading_of, size_of
from webapp.pdf.fonts import shortened
from webapp.pdf.sheets import (
    BOTTOM,
    LEFT,
    PAPER_HEIGHT,
    RIGHT,
    TOP,
    WIDTH,
    Sheets,
    lines_of,
)

COLUMNS, ROWS = 2, 4
BOX_WIDTH, BOX_HEIGHT = 234, 92
CAPTION = 30.0  # name, role and meaning over a box
GRID_TOP = TOP + 66.0
ROW_STEP = CAPTION + BOX_HEIGHT + 10.0
A_SHEET = COLUMNS * ROWS
MEANINGS = {
    "performed": "performed: I performed the tests that carry my name",
    "approved": "approved: reviewed, and approved for turnover",
}

Doc = Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class SealBox:
    """Where a signature shows: page counted from the end, corners in points.

    *page* is -1 for the last page; *corners* are x1, y1, x2, y2 from the lower
    left of the page.
    """

    page: int
    corners: tuple[float, float, float, float]

    @property
    def width(self) -> float:
        """The box's width in points."""
        return self.corners[2] - self.corners[0]

    @property
    def height(self) -> float:
        """The box's height in points."""
        return self.corners[3] - self.corners[1]


def seal_boxes(document: Doc) -> dict[str, SealBox]:
    """Return the box of each seal by the name of its field."""
    sheets = _sheets(document)
    boxes = {}
    for n, seal in enumerate(document["seals"]):
        x, top = _place(n)
        bottom = PAPER_HEIGHT - top - BOX_HEIGHT
        boxes[seal["field"]] = SealBox(
            page=n // A_SHEET - sheets,
            corners=(x, int(bottom), x + BOX_WIDTH, int(bottom) + BOX_HEIGHT),
        )
    return boxes


def _sheets(document: Doc) -> int:
    count = len(document["seals"]) + len(document.get("waived", ()))
    return max(1, -(-count // A_SHEET))


def _place(n: int) -> tuple[int, float]:
    """Return the upper left corner of the box *n*, y from the top of the paper."""
    row, column = divmod(n % A_SHEET, COLUMNS)
    x = int(LEFT) + column * (BOX_WIDTH + int(WIDTH) - COLUMNS * BOX_WIDTH)
    return x, GRID_TOP + row * ROW_STEP + CAPTION


def signature_sheets(
    sheets: Sheets, document: Doc, digest: str, *, draft: bool
) -> None:
    """Put down the last sheets: boxes, the log's head, the end of the record."""
    waived = document.get("waived", ())
    entries: Sequence[Doc] = [*document["seals"], *waived]
    for sheet in range(_sheets(document)):
        sheets.begin("Signatures", mark=sheet == 0)
        _head(sheets, draft=draft)
        for n, entry in enumerate(entries):
            if n // A_SHEET != sheet:
                continue
            if n < len(document["seals"]):
                _seal(sheets, entry, n, draft=draft)
            else:
                _waiver(sheets, entry, n, document["zone"])
    _end(sheets, document, digest)


def _head(sheets: Sheets, *, draft: bool) -> None:
    sheets.text("Signatures", "title")
    sheets.y += 4
    if draft:
        sheets.text(
            "This is a draft: it carries no signature. Those named below are to sign "
            "the record once it is made.",
            "body-strong",
        )
        return
    sheets.text(
        "Each signature is made with a key that only its owner's password opens, and "
        "covers the whole file as it stood at that moment, the attached data included. "
        "A PDF reader shows who signed and whether anything has changed since; compare "
        "the root certificate with the owner's own copy, not with the one attached "
        "here.",
        "second",
    )


def _seal(sheets: Sheets, seal: Doc, n: int, *, draft: bool) -> None:
    x, top = _place(n)
    name = seal["person"] or "Approver, who performed none of the tests"
    meaning = MEANINGS[seal["meaning"]]
    _caption(
        sheets, x, top, f"{name}, {seal['role']}" if seal["person"] else name, meaning
    )
    if not draft:
        # The page's y of a box is that of `seal_boxes`, whole points from below.
        upper = PAPER_HEIGHT - int(PAPER_HEIGHT - top - BOX_HEIGHT) - BOX_HEIGHT
        sheets.put(Rect(x, upper, BOX_WIDTH, BOX_HEIGHT, "frame"))


def _waiver(sheets: Sheets, waiver: Doc, n: int, zone: str) -> None:
    x, top = _place(n)
    _caption(sheets, x, top, waiver["person"], "performed: signature waived")
    sheets.put(Rect(x, top, BOX_WIDTH, BOX_HEIGHT, "frame-thin"))
    when = times.at(waiver["at"], zone)
    words = f"Waived by {waiver['by']}, {when}: {waiver['reason']}"
    leading = leading_of("small-ink")
    room = int((BOX_HEIGHT - 10) / leading)
    lines = lines_of(words, "small-ink", BOX_WIDTH - 14)
    if len(lines) > room:
        lines = (*lines[: room - 1], "… in full under Signatures waived")
    for m, line in enumerate(lines):
        sheets.put(Text(x + 7, top + 6 + leading * (m + 0.8), line, "small-ink"))


def _caption(sheets: Sheets, x: float, top: float, name: str, meaning: str) -> None:
    for words, style, up in ((name, "body-strong", 16), (meaning, "small", 6)):
        fitting = shortened(words, font_of(style), size_of(style), BOX_WIDTH)
        sheets.put(Text(x, top - up, fitting, style))


def _end(sheets: Sheets, document: Doc, digest: str) -> None:
    log = document["log"]
    y = BOTTOM - 62
    sheets.put(
        Line(LEFT, y, RIGHT, y, "hairline"),
        Text(LEFT, y + 13, f"Head of the log at entry {log['seq']}", "small-strong"),
        Text(LEFT, y + 23, log["head"], "mono-small"),
        Text(LEFT, y + 35, "SHA-256 of record.json", "small-strong"),
        Text(LEFT, y + 45, digest, "mono-small"),
        Text((LEFT + RIGHT) / 2, BOTTOM - 1, "END OF RECORD", "subheading", "middle"),
    )

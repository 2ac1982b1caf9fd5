"""The photographs of a round, two beside each other, each with what it shows."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from webapp.drawing.shapes import Rect, Text
from webapp.pdf import times
from webapp.pdf.faces import leading_of
from webapp.pdf.sheets import LEFT, WIDTH, Sheets, lines_of

GUTTER = 16.0
COLUMN = (WIDTH - GUTTER) / 2
TALLEST = 150.0  # points: three rows on a page
AFTER_PICTURE, AFTER_ROW = 3.0, 14.0
NOT_OPENED = "The picture could not be opened when the package was made."

Doc = Mapping[str, Any]
Caption = list[tuple[str, str]]  # (line, style)


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A picture made for paper: a JPEG, and its size in pixels."""

    jpeg: bytes
    width: int
    height: int

    def fitted(self) -> tuple[float, float]:
        """Return its width and height on the page, in points."""
        scale = min(COLUMN / self.width, TALLEST / self.height)
        return self.width * scale, self.height * scale


NOT_OPENED_SIZE = COLUMN, 40.0  # of the frame in the place of a picture


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """Which files of a document are printed, and how many are left out.

    *pictures*: by SHA-256; None for one that could not be opened.
    """

    files: Sequence[Doc]
    pictures: Mapping[str, Picture | None]
    left_out: int = 0


def photographs(sheets: Sheets, document: Doc, printed: Printed | None) -> None:
    """Put down the photographs on sheets of their own; nothing where there are none."""
    if printed is None or not printed.files:
        return
    sheets.begin("Photographs")
    sheets.text("Photographs", "title")
    sheets.y += 5
    sheets.text(_head(printed), "body")
    sheets.y += 8
    for start in range(0, len(printed.files), 2):
        pair = printed.files[start : start + 2]
        _row(
            sheets,
            [
                (printed.pictures[file["sha256"]], _caption(start + n, file, document))
                for n, file in enumerate(pair, start=1)
            ],
        )


def _head(printed: Printed) -> str:
    said = "As they are on record, made smaller. Each file stands with its SHA-256 "
    said += "under Attached files."
    if printed.left_out:
        said += f" {printed.left_out} more are listed there and not printed."
    return said


def _caption(number: int, file: Doc, document: Doc) -> Caption:
    at = times.at(file["at"], document["zone"])
    said = [
        (f"{number} · {file['where']}", "small-strong"),
        (file["note"], "small-ink"),
        (f"{file['name']}, by {file['by']}, on record {at}", "small"),
    ]
    return [
        (line, style)
        for words, style in said
        if words
        for line in lines_of(words, style, COLUMN)
    ]


def _row(sheets: Sheets, row: Sequence[tuple[Picture | None, Caption]]) -> None:
    """Put down one or two pictures, their captions below them, on one page."""
    sheets.need(max(_height(picture, said) for picture, said in row))
    top = sheets.y
    for column, (picture, said) in enumerate(row):
        x = LEFT + column * (COLUMN + GUTTER)
        width, height = _size(picture)
        if picture:
            sheets.picture(picture.jpeg, x, top, width, height)
        else:
            sheets.put(
                Rect(x, top, width, height, "hairline"),
                Text(x + 8, top + height / 2 + 3, NOT_OPENED, "small"),
            )
        y = top + height + AFTER_PICTURE
        for line, style in said:
            y += leading_of(style)
            sheets.put(Text(x, y - leading_of(style) * 0.26, line, style))
    sheets.y = top + max(_height(*one) for one in row) + AFTER_ROW


def _size(picture: Picture | None) -> tuple[float, float]:
    return picture.fitted() if picture else NOT_OPENED_SIZE


def _height(picture: Picture | None, said: Caption) -> float:
    captions = sum(leading_of(style) for _, style in said)
    return _size(picture)[1] + AFTER_PICTURE + captions

"""Rows of readings in the package: the values on the left, the curve on the right."""

from collections.abc import Mapping, Sequence
from typing import Any

from webapp.drawing.shapes import Line, Text
from webapp.pdf.book import LEFT, RIGHT, WIDTH, Book, lines_of
from webapp.pdf.faces import leading_of
from webapp.words.read_rows import ReadRow, rows_of

CURVE_TIMES = 0.6
CURVE_WIDTH, CURVE_HEIGHT = 430.0, 190.0  # before they are made smaller
TEXT_WIDTH = WIDTH - CURVE_WIDTH * CURVE_TIMES - 18.0
COLUMNS = 2  # of values, side by side

Doc = Mapping[str, Any]


def reading_blocks(book: Book, readings: Sequence[Doc]) -> None:
    """Put down every row that readings carry, point by point."""
    for reading in readings:
        for row in rows_of(reading):
            _block(book, reading, row)


def _block(book: Book, reading: Doc, row: ReadRow) -> None:
    curve = row.curve(CURVE_WIDTH, CURVE_HEIGHT)
    said = [*row.quotients]
    note = lines_of(row.series.note, "small", TEXT_WIDTH)
    lines = -(-len(row.values) // COLUMNS)
    leading, small = leading_of("body"), leading_of("small")
    text_height = leading * (lines + len(said)) + small * len(note) + 8
    drawn = curve.height * CURVE_TIMES if curve else 0.0
    head = leading_of("body-strong") + 6
    book.need(max(text_height, drawn) + head + 8)
    gone = ", superseded" if reading["superseded_by"] else ""
    book.y += 6
    book.text(f"{reading['point']}{gone}: {row.series.title.lower()}", "body-strong")
    book.y += 2
    top = book.y
    if curve:
        book.place(curve, RIGHT - CURVE_WIDTH * CURVE_TIMES, top, CURVE_TIMES)
    y = _values(book, row.values, lines, top)
    for label, figure in said:
        y += leading
        book.put(
            Text(LEFT + 6, y - 3, label, "body"),
            Text(LEFT + TEXT_WIDTH, y - 3, figure, "body-strong", "end"),
        )
    for words in note:
        y += small
        book.put(Text(LEFT + 6, y - 1, words, "small"))
    book.y = max(y, top + drawn) + 4
    book.line()


def _values(
    book: Book, values: Sequence[tuple[str, str]], lines: int, top: float
) -> float:
    """Put the values into columns, downwards first; return where they end."""
    leading = leading_of("body")
    wide = TEXT_WIDTH / COLUMNS
    for n, (step, shown) in enumerate(values):
        x = LEFT + 6 + wide * (n // lines)
        y = top + leading * (n % lines + 1)
        book.put(
            Text(x, y - 3, step, "small"),
            Text(x + wide - 18, y - 3, shown, "body", "end"),
        )
    y = top + leading * lines
    book.put(Line(LEFT + 6, y, LEFT + TEXT_WIDTH, y, "hairline"))
    return y + 2

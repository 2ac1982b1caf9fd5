"""Rows of readings in the package: the values on the left, the curve on the right."""

from collections.abc import Mapping, Sequence
from typing import Any

from models.words import in_sentence
from webapp.drawing.shapes import Line, Text
from webapp.pdf.faces import leading_of
from webapp.pdf.sheets import LEFT, RIGHT, WIDTH, Sheets, lines_of
from webapp.words.read_rows import ReadRow, rows_of

CURVE_TIMES = 0.6
CURVE_WIDTH, CURVE_HEIGHT = 430.0, 190.0  # before they are made smaller
TEXT_WIDTH = WIDTH - CURVE_WIDTH * CURVE_TIMES - 18.0
COLUMNS = 2  # of values, side by side

Doc = Mapping[str, Any]


def reading_blocks(
    sheets: Sheets, readings: Sequence[Doc], rules: Sequence[Doc]
) -> None:
    """Put down every row that readings carry, point by point."""
    for reading in readings:
        for row in rows_of(reading, rules[reading["rule"]]):
            _block(sheets, reading, row)


def _block(sheets: Sheets, reading: Doc, row: ReadRow) -> None:
    curve = row.curve(CURVE_WIDTH, CURVE_HEIGHT)
    said = [*row.quotients]
    note = lines_of(row.series.note, "small", TEXT_WIDTH)
    lines = -(-len(row.values) // COLUMNS)
    leading, small = leading_of("body"), leading_of("small")
    text_height = leading * (lines + len(said)) + small * len(note) + 8
    drawn = curve.height * CURVE_TIMES if curve else 0.0
    head = leading_of("body-strong") + 6
    sheets.need(max(text_height, drawn) + head + 8)
    gone = ", superseded" if reading["superseded_by"] else ""
    sheets.y += 6
    sheets.text(
        f"{reading['point']}{gone}: {in_sentence(row.series.title)}", "body-strong"
    )
    sheets.y += 2
    top = sheets.y
    if curve:
        sheets.place(curve, RIGHT - CURVE_WIDTH * CURVE_TIMES, top, CURVE_TIMES)
    y = _values(sheets, row.values, lines, top)
    for label, figure in said:
        y += leading
        sheets.put(
            Text(LEFT + 6, y - 3, label, "body"),
            Text(LEFT + TEXT_WIDTH, y - 3, figure, "body-strong", "end"),
        )
    for words in note:
        y += small
        sheets.put(Text(LEFT + 6, y - 1, words, "small"))
    sheets.y = max(y, top + drawn) + 4
    sheets.line()


def _values(
    sheets: Sheets, values: Sequence[tuple[str, str]], lines: int, top: float
) -> float:
    """Put the values into columns, downwards first; return where they end."""
    leading = leading_of("body")
    wide = TEXT_WIDTH / COLUMNS
    for n, (step, shown) in enumerate(values):
        x = LEFT + 6 + wide * (n // lines)
        y = top + leading * (n % lines + 1)
        sheets.put(
            Text(x, y - 3, step, "small"),
            Text(x + wide - 18, y - 3, shown, "body", "end"),
        )
    y = top + leading * lines
    sheets.put(Line(LEFT + 6, y, LEFT + TEXT_WIDTH, y, "hairline"))
    return y + 2

"""Tables that wrap their cells and repeat their heads."""

from collections.abc import Sequence
from dataclasses import dataclass

from webapp.drawing.marks import verdict_mark
from webapp.drawing.shapes import Line, Text
from webapp.pdf.faces import leading_of
from webapp.pdf.sheets import BOTTOM, LEFT, TOP, WIDTH, Sheets, lines_of

PAD = 3.2  # above and below a row's text
GUTTER = 8.0  # between columns
MARK = 12.0  # room for a verdict's shape


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column: its head, its share of the width, its style and anchor."""

    head: str
    share: float
    style: str = "body"
    anchor: str = "start"
    head_style: str = "head"


@dataclass(frozen=True, slots=True)
class Said:
    """A cell that holds a verdict: its shape goes before its word."""

    verdict: str
    words: str = ""


Cell = str | Said


def table(
    sheets: Sheets,
    columns: Sequence[Column],
    rows: Sequence[Sequence[Cell]],
    pad: float = PAD,
) -> None:
    """Put down *rows* under the columns' heads; heads return on each new page.

    *pad* is the room above and below a row's text.
    """
    places = _places(columns)

    def heads() -> None:
        _heads(sheets, columns, places)

    if not rows:
        return
    first = _height(columns, places, rows[0], pad)
    sheets.need(min(first, (BOTTOM - TOP) / 2) + 2 * leading_of("head"))
    heads()
    with sheets.repeating(heads):
        for row in rows:
            _row(sheets, columns, places, row, pad)


def _places(columns: Sequence[Column]) -> list[tuple[float, float]]:
    """Return (x, width) of each column."""
    whole = sum(column.share for column in columns)
    places, x = [], LEFT
    for column in columns:
        width = WIDTH * column.share / whole
        places.append((x, width - GUTTER))
        x += width
    return places


def _heads(
    sheets: Sheets, columns: Sequence[Column], places: Sequence[tuple[float, float]]
) -> None:
    wrapped = [
        lines_of(c.head, c.head_style, w)
        for c, (_, w) in zip(columns, places, strict=True)
    ]
    leading = leading_of("head")
    deep = max(len(rows) for rows in wrapped)
    for rows, column, (x, width) in zip(wrapped, columns, places, strict=True):
        for n, words in enumerate(rows):
            y = sheets.y + leading * (deep - len(rows) + n + 1)
            sheets.put(_anchored(words, column.head_style, column, x, width, y))
    sheets.y += deep * leading + 4
    sheets.line("strong-rule")


def _cell_lines(column: Column, width: float, cell: Cell) -> tuple[str, ...]:
    if isinstance(cell, Said):
        return lines_of(cell.words or cell.verdict, "body-strong", width - MARK)
    return lines_of(cell, column.style, width)


def _height(
    columns: Sequence[Column],
    places: Sequence[tuple[float, float]],
    row: Sequence[Cell],
    pad: float,
) -> float:
    deep = [
        len(_cell_lines(c, w, cell)) * leading_of(c.style)
        for c, (_, w), cell in zip(columns, places, row, strict=True)
    ]
    return max(deep) + 2 * pad


def _row(
    sheets: Sheets,
    columns: Sequence[Column],
    places: Sequence[tuple[float, float]],
    row: Sequence[Cell],
    pad: float,
) -> None:
    """Put down a row; only one taller than a page is cut."""
    height = _height(columns, places, row, pad)
    if height < BOTTOM - TOP - 40:
        sheets.need(height)
    left = [
        list(_cell_lines(c, w, cell))
        for c, (_, w), cell in zip(columns, places, row, strict=True)
    ]
    first = True
    while first or any(left):
        step = max(leading_of(column.style) for column in columns)
        fits = max(1, int((BOTTOM - sheets.y - 2 * pad) / step))
        deep = 0.0
        for column, place, cell, lines in zip(columns, places, row, left, strict=True):
            taken, lines[:] = lines[:fits], lines[fits:]
            _cell(sheets, column, place, cell, taken, pad, marked=first)
            deep = max(deep, len(taken) * leading_of(column.style))
        sheets.y += deep + 2 * pad
        sheets.line()
        first = False
        if any(left):
            sheets.turn()


def _cell(
    sheets: Sheets,
    column: Column,
    place: tuple[float, float],
    cell: Cell,
    lines: Sequence[str],
    pad: float,
    *,
    marked: bool,
) -> None:
    x, width = place
    style, aside = column.style, 0.0
    if isinstance(cell, Said):
        style, aside = f"{cell.verdict}-said", MARK
        if marked:
            y = sheets.y + pad + leading_of(column.style) * 0.52
            sheets.put(*verdict_mark(cell.verdict, x + 4, y, 3.8))
    leading = leading_of(column.style)
    for n, words in enumerate(lines):
        y = sheets.y + pad + leading * (n + 0.74)
        sheets.put(_anchored(words, style, column, x + aside, width, y))


def _anchored(
    words: str, style: str, column: Column, x: float, width: float, y: float
) -> Text:
    at = x + width if column.anchor == "end" else x
    return Text(at, y, words, style, column.anchor)


def pairs(
    sheets: Sheets,
    rows: Sequence[tuple[str, str]],
    x: float,
    width: float,
    label: float,
) -> None:
    """Put down (label, value) lines in part of the width, empty ones left out."""
    for name, value in rows:
        if not value:
            continue
        lines = lines_of(value, "body", width - label)
        leading = leading_of("body")
        sheets.need(leading * len(lines) + 3)
        top = sheets.y
        for n, words in enumerate(lines_of(name, "second", label - 6)):
            sheets.put(Text(x, top + leading * (n + 0.8), words, "second"))
            sheets.y = max(sheets.y, top + leading * (n + 1))
        for n, words in enumerate(lines):
            sheets.put(Text(x + label, top + leading * (n + 0.8), words, "body"))
        sheets.y = max(sheets.y, top + leading * len(lines)) + 3
        sheets.put(Line(x, sheets.y - 1.5, x + width, sheets.y - 1.5, "hairline"))

"""Rows of a form to write on: lines with their fields, and tables with blank rows."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from webapp.drawing.shapes import Item, Line, Rect, Text
from webapp.pdf.faces import font_of, leading_of, size_of
from webapp.pdf.fonts import shortened
from webapp.pdf.sheets import LEFT, RIGHT, WIDTH, Sheets, lines_of

BOX = 8.0  # to tick
CODE = 14.0  # where the code begins, from the left
WORDS = 48.0  # where the wording begins
SIGN, TIME = 116.0, 44.0  # room for who said it and when, and for when alone
NAME = SIGN - TIME - 6
WORDING = 150.0
FIELDS = WIDTH - WORDS - WORDING - SIGN - 8
FIELDS_A_ROW = 2
FIELD = 18.0  # height of a field: label, and a rule to write on
LEAST = 16.0  # height of a line without fields: a place to sign
ROW = 20.0  # of a table to write in
TICK = "✓"

Doc = Mapping[str, Any]


def form_lines(sheets: Sheets, lines: Sequence[Doc], first: str = "") -> None:
    """Put down lines: a box, the wording, its fields, and a place to sign.

    A line that is on record is ticked, with what was noted, the name and the time.
    *first* is the head above the wording.
    """

    def heads() -> None:
        _sign_heads(sheets, first)

    heads()
    with sheets.repeating(heads):
        for line in lines:
            _line(sheets, _set(line))


def height_of(lines: Sequence[Doc]) -> float:
    """Return how high lines with their heads are, to keep them on one page."""
    return leading_of("head") + 2 + sum(_set(line).height for line in lines)


class _Set(NamedTuple):
    """A line as it is wrapped."""

    line: Doc
    said: Sequence[str]
    again: Sequence[str]

    @property
    def height(self) -> float:
        left = self.upper + leading_of("small-ink") * len(self.again) + 2.5
        return float(max(left, self.upper + 2, LEAST))

    @property
    def upper(self) -> float:
        """How far down the wording and the fields go."""
        words = leading_of("small-ink") * len(self.said)
        rows = -(-len(self.line["fields"]) // FIELDS_A_ROW)
        return float(max(words, rows * FIELD))


def _set(line: Doc) -> _Set:
    words = f"{line['item']}: {line['text']}" if line["item"] else line["text"]
    room = WORDING if line["fields"] else WORDING + FIELDS
    again = [line["again"], *_too_long(line["fields"])]
    return _Set(
        line,
        lines_of(words, "small-ink", room),
        lines_of("\n".join(filter(None, again)), "small-strong", WORDING + FIELDS)
        if any(again)
        else (),
    )


def _too_long(fields: Sequence[Sequence[str]]) -> Iterator[str]:
    """Yield what was noted and does not fit its field, to stand below whole."""
    for start in range(0, len(fields), FIELDS_A_ROW):
        row = fields[start : start + FIELDS_A_ROW]
        for label, _, value in row:
            if value != _cut(value, "small-ink", FIELDS / len(row) - 10):
                yield f"{label}: {value}"


def _line(sheets: Sheets, one: _Set) -> None:
    line, height = one.line, one.height
    sheets.need(height)
    top = sheets.y
    sheets.put(
        *_tick(LEFT, top + 3, ticked=bool(line["by"])),
        Text(LEFT + CODE, top + BOX + 2, line["code"], "mono-small"),
        *_rows_of(one.said, "small-ink", LEFT + WORDS, top + 9),
    )
    for n in range(0, len(line["fields"]), FIELDS_A_ROW):
        y = top + n // FIELDS_A_ROW * FIELD
        sheets.put(*_fields(line["fields"][n : n + FIELDS_A_ROW], y))
    below = top + 9 + one.upper
    sheets.put(*_rows_of(one.again, "small-strong", LEFT + WORDS, below))
    sheets.put(*_signed(line, top, top + height))
    sheets.y += height
    sheets.line()


def _rows_of(rows: Sequence[str], style: str, x: float, y: float) -> list[Text]:
    leading = leading_of(style)
    return [Text(x, y + leading * n, row, style) for n, row in enumerate(rows)]


def _tick(x: float, top: float, *, ticked: bool) -> list[Item]:
    box: list[Item] = [Rect(x, top, BOX, BOX, "frame-thin")]
    return [*box, Text(x + 1, top + BOX - 1, TICK, "body-strong")] if ticked else box


def _fields(fields: Sequence[Sequence[str]], top: float) -> list[Item]:
    """Return fields side by side: label above, the value or nothing on the rule."""
    width = FIELDS / len(fields)
    items: list[Item] = []
    for n, (label, unit, value) in enumerate(fields):
        x = LEFT + WORDS + WORDING + 6 + n * width
        end, base = x + width - 6, top + FIELD - 2
        items += [
            Text(x, top + 5.8, _cut(label, "tiny", width - 6), "tiny"),
            Line(x, base, end, base, "hairline"),
            Text(end, base - 2, unit, "tiny", "end"),
            Text(x + 2, base - 2, _cut(value, "small-ink", width - 10), "small-ink"),
        ]
    return items


def _signed(line: Doc, top: float, bottom: float) -> list[Item]:
    x = RIGHT - SIGN
    return [
        Line(x, top, x, bottom, "hairline"),
        Line(RIGHT - TIME, top, RIGHT - TIME, bottom, "hairline"),
        Text(x + 4, bottom - 6, _cut(line["by"], "small-ink", NAME), "small-ink"),
        Text(RIGHT - TIME + 4, bottom - 6, line["at"], "small-ink"),
    ]


def _sign_heads(sheets: Sheets, first: str) -> None:
    """Put down what the columns of lines are for."""
    sheets.y += leading_of("head")
    x = RIGHT - SIGN
    sheets.put(
        Text(LEFT + WORDS, sheets.y - 2, first, "head"),
        Text(x + 4, sheets.y - 2, "Name or initials", "head"),
        Text(RIGHT - TIME + 4, sheets.y - 2, "Time", "head"),
    )
    sheets.y += 2
    sheets.line("strong-rule")


def form_table(sheets: Sheets, grid: Doc) -> None:
    """Put down a table to write in: what is on record first, then blank rows.

    *grid*: `heads` with the share of the width of each, `rows`, `blank` rows.
    """
    places = _places(grid["heads"])
    rows = [*grid["rows"], *([""] * len(places) for _ in range(grid["blank"]))]

    def heads() -> None:
        _table_heads(sheets, grid["heads"], places)

    sheets.need(2 * ROW + 16)
    heads()
    with sheets.repeating(heads):
        for row in rows:
            _table_row(sheets, places, row)
    sheets.y += 4


Places = Sequence[tuple[float, float]]


def _places(heads: Sequence[tuple[str, float]]) -> list[tuple[float, float]]:
    whole = sum(share for _, share in heads)
    places, x = [], LEFT
    for _, share in heads:
        width = WIDTH * share / whole
        places.append((x, width))
        x += width
    return places


def _table_heads(
    sheets: Sheets, heads: Sequence[tuple[str, float]], places: Places
) -> None:
    wrapped = [
        lines_of(head, "head", width - 5)
        for (head, _), (_, width) in zip(heads, places, strict=True)
    ]
    leading, deep = leading_of("head"), max(map(len, wrapped))
    for words, (x, _) in zip(wrapped, places, strict=True):
        for n, row in enumerate(words):
            y = sheets.y + leading * (deep - len(words) + n + 1) - 2
            sheets.put(Text(x + 3, y, row, "head"))
    sheets.y += deep * leading + 2
    sheets.line("strong-rule")


def _table_row(sheets: Sheets, places: Places, row: Sequence[str]) -> None:
    cells = [
        lines_of(words, "small-ink", width - 6)
        for words, (_, width) in zip(row, places, strict=True)
    ]
    leading = leading_of("small-ink")
    height = max(ROW, leading * max(map(len, cells)) + 5)
    sheets.need(height)
    top = sheets.y
    for words, (x, _) in zip(cells, places, strict=True):
        sheets.put(
            Line(x, top, x, top + height, "hairline"),
            *(
                Text(x + 3, top + 9 + leading * n, line, "small-ink")
                for n, line in enumerate(words)
            ),
        )
    sheets.put(Line(RIGHT, top, RIGHT, top + height, "hairline"))
    sheets.y += height
    sheets.line()


def _cut(words: str, style: str, width: float) -> str:
    return shortened(words, font_of(style), size_of(style), width)

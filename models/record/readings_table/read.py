"""Rows of an instrument's table as readings, with the faults of each by its column."""

import re
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, field
from datetime import datetime
from zoneinfo import ZoneInfo

from models.record.readings_table.columns import Columns

Row = tuple[int, Sequence[tuple[str, str]]]
HIDDEN_ROW = "stands in a hidden row"  # what its first cell says
A_DATE = "holds a date"  # how the reader of workbooks begins on a cell of a date
SPACES = re.compile(r"[\s'\u00a0\u202f\u2019]+")
POINTED = re.compile(r"[+-]?(\d{1,3}(,\d{3})+|\d*)(\.\d*)?([eE][+-]?\d+)?")
COMMAED = re.compile(r"[+-]?(\d{1,3}(\.\d{3})+|\d*)(,\d*)?([eE][+-]?\d+)?")
SECONDS = (":%S", "")  # a time without seconds is read as well


@dataclass(slots=True, kw_only=True)
class ReadRow:
    """A row: the label of its point, the value as typed; *faults* by column.

    *cell* and *apparatus* say whose card it is, in a table for several cards.
    """

    row: int
    first: bool = False  # right below the headings
    cell: str = ""
    apparatus: str = ""
    point: str = ""
    text: str = ""
    unit: str = ""
    taken_at: datetime | None = None  # None: the table does not say
    note: str = ""
    conditions: dict[str, str] = field(default_factory=dict)
    faults: list[tuple[int | None, str]] = field(default_factory=list)


def read_readings(
    rows: Sequence[Row], columns: Columns, left_out: Set[int], zone: str
) -> list[ReadRow]:
    """Return the readings below the headings, without the rows that are left out."""
    found: dict[tuple[str, str, str], int] = {}
    read: list[ReadRow] = []
    for number, cells in rows:
        if number <= columns.header or number in left_out:
            continue
        one = _row(number, cells, columns, zone)
        one.first = not read
        named = (one.cell, one.apparatus, one.point)
        before = found.setdefault(named, number) if one.point else number
        if before != number:
            said = f"Row {before} has the same point: leave one of them out."
            one.faults.append((columns.point, said))
        read.append(one)
    return read


def _row(
    number: int, cells: Sequence[tuple[str, str]], columns: Columns, zone: str
) -> ReadRow:
    one = ReadRow(row=number)

    def cell(at: int | None) -> str:
        text, wrong = cells[at] if at is not None and at < len(cells) else ("", "")
        if wrong.startswith(HIDDEN_ROW):
            return text.strip()  # said of the row
        if wrong and not (at == columns.taken and wrong.startswith(A_DATE) and text):
            one.faults.append((at, f"The cell {wrong}"))
        return text.strip()

    if cells[0][1].startswith(HIDDEN_ROW):
        one.faults.append((None, f"It {cells[0][1]}"))
    one.cell, one.apparatus, one.point = (
        " ".join(cell(at).split())
        for at in (columns.cell, columns.apparatus, columns.point)
    )
    if not one.point:
        one.faults.append((columns.point, "The point is missing."))
    one.text = _value(cell(columns.value), columns, one)
    one.unit = columns.unit_given or cell(columns.unit)
    one.note = cell(columns.note)
    one.conditions = {
        name: plain_number(text, columns.decimal) or text
        for name, at in columns.conditions.items()
        if (text := cell(at))
    }
    typed = cell(columns.taken)
    if columns.taken is not None and not one.faults:
        one.taken_at = _time(typed, columns.time_format, zone)
        if one.taken_at is None:
            said = f"“{typed}” is no time as it was chosen."
            one.faults.append((columns.taken, said))
    return one


def _value(typed: str, columns: Columns, one: ReadRow) -> str:
    """Return a value as it is typed on a card: with a decimal point, no groups."""
    if columns.over_word and typed.casefold() == columns.over_word.casefold():
        return f">{columns.over_from}"
    sign, number = ("", typed)
    if typed[:1] in ("<", ">"):
        sign, number = typed[0], typed[1:].strip()
        if not columns.bounds:
            said = f"“{typed}” is beyond the range: say that such values are read so."
            one.faults.append((columns.value, said))
            return typed
    if not typed:
        one.faults.append((columns.value, "The value is missing."))
    plain = plain_number(number, columns.decimal)
    if plain is None:
        if any(letter.isdigit() for letter in number):
            said = f"“{typed}” is not a number with the decimal sign that is chosen."
            one.faults.append((columns.value, said))
        return typed
    return sign + plain


def plain_number(typed: str, decimal: str) -> str | None:
    """Return a number with a point and without groups; None where it is none.

    "1.234,5" with a decimal comma is 1234.5; "1,5" with a decimal point is none.
    """
    text = SPACES.sub("", typed.replace("\u2212", "-"))
    if not any(letter.isdigit() for letter in text):
        return None
    shape, group = (COMMAED, ".") if decimal == "," else (POINTED, ",")
    if shape.fullmatch(text) is None:
        return None
    return text.replace(group, "").replace(",", ".").removeprefix("+")


def _time(typed: str, chosen: str, zone: str) -> datetime | None:
    for shape in _shapes(chosen):
        try:
            at = datetime.strptime(typed, shape)  # noqa: DTZ007 (the zone follows)
        except ValueError:
            continue
        return at.replace(tzinfo=ZoneInfo(zone))
    if "T" not in typed:
        return None
    try:  # as a workbook's own dates come
        at = datetime.fromisoformat(typed)
    except ValueError:
        return None
    return at if at.tzinfo else at.replace(tzinfo=ZoneInfo(zone))


def _shapes(chosen: str) -> Iterator[str]:
    for seconds in SECONDS:
        yield chosen.replace(":%S", seconds)


def with_columns(
    faults: Sequence[tuple[int | None, str]], heads: Mapping[int, str]
) -> str:
    """Return the faults in words, each after its column."""
    return " ".join(
        said if at is None or at not in heads else f"{heads[at]}: {said}"
        for at, said in faults
    )

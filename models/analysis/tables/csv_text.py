"""Cells of a CSV file: UTF-8, commas, double quotes.

A text that a spreadsheet would take for a formula stands with an apostrophe before it,
and so does one that begins with an apostrophe: `plain` takes it off, `guarded` puts it.
"""

import csv
import io
from collections.abc import Sequence

from models.analysis.tables.places import (
    MOST_COLUMNS,
    MOST_ROWS,
    Cell,
    Row,
    checked,
    letter,
)
from models.errors import Fault, InputError

GUARDED = ("=", "+", "-", "@", "\t", "\r", "'")


def csv_rows(data: bytes) -> Sequence[Row]:
    """Return the rows that are not blank; InputError where it is no such file."""
    rows = rows_in(_decoded(data), ",")
    _look_at(rows)
    return rows


def rows_in(text: str, delimiter: str) -> list[Row]:
    """Return the rows of a text that are not blank; InputError as `csv_rows`."""
    reader = csv.reader(io.StringIO(text, newline=""), strict=True, delimiter=delimiter)
    rows: list[Row] = []
    try:
        for number, cells in enumerate(reader, start=1):
            if any(cell.strip() for cell in cells):
                rows.append((number, [_cell(cell) for cell in cells]))
            if number > MOST_ROWS:
                raise _refused(f"row {number}", f"A table ends at row {MOST_ROWS}.")
    except csv.Error as error:
        place = f"line {reader.line_num}"
        raise _refused(place, f"A quote or a line is not closed ({error}).") from error
    _refuse_far_cells(rows)
    return rows


def guarded(text: str) -> str:
    """Return a text that no spreadsheet takes for a formula."""
    return f"'{text}" if text.startswith(GUARDED) else text


def plain(text: str) -> str:
    """Return the text that `guarded` was given."""
    return text[1:] if text[:1] == "'" and text[1:].startswith(GUARDED) else text


def _decoded(data: bytes) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise _refused("the file", "The file is UTF-16: save it as CSV in UTF-8.")
    if b"\0" in data:
        said = "This is neither a workbook (XLSX) nor a CSV file in UTF-8."
        raise _refused("the file", said)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        said = (
            f"Byte 0x{data[error.start]:02x} is not UTF-8: save the file as CSV in "
            "UTF-8 (“CSV UTF-8” in spreadsheets)."
        )
        raise _refused(f"line {line}", said) from error


def _look_at(rows: Sequence[Row]) -> None:
    """Refuse cells that other signs part."""
    starts = [cells[0][0] for _, cells in rows if len(cells) == 1]
    for sign, word in ((";", "semicolons"), ("\t", "tabs")):
        if any(text.count(sign) > 1 and text[:1] != "#" for text in starts):
            said = f"The cells are parted by {word}: save the file as CSV with commas."
            raise _refused("the file", said)


def _refuse_far_cells(rows: Sequence[Row]) -> None:
    for number, cells in rows:
        if len(cells) > MOST_COLUMNS and any(
            t.strip() for t, _ in cells[MOST_COLUMNS:]
        ):
            place = f"row {number}, column {letter(MOST_COLUMNS)}"
            raise _refused(place, f"A table ends at column {letter(MOST_COLUMNS - 1)}.")


def _cell(text: str) -> Cell:
    return checked(plain(text.strip()))


def _refused(place: str, message: str) -> InputError:
    return InputError(Fault(field=place, message=message))

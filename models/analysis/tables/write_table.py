"""Write a table for people to fill in: CSV, or a workbook. No text is a formula."""

import csv
import io
from collections.abc import Mapping, Sequence

from openpyxl import Workbook
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from models.analysis.tables.csv_text import guarded

Value = str | float | None  # None: blank
Line = Sequence[Value]
NARROWEST, WIDEST = 10, 40  # characters of a column
CONTROL = dict.fromkeys(  # what a workbook cannot hold
    n for n in range(32) if chr(n) not in "\t\n\r"
)
KEPT = "%.16g"  # how the library writes a number


def workbook_of(sheets: Mapping[str, Sequence[Line]], table: str) -> bytes:
    """Return a workbook of *sheets*; the first row of the sheet *table* stays seen."""
    book = Workbook()
    book.remove(book.worksheets[0])
    for name, lines in sheets.items():
        _fill(book.create_sheet(name), lines)
    book[table].freeze_panes = "C2"
    for cell in book[table][1]:
        cell.font = Font(bold=True)
    target = io.BytesIO()
    book.save(target)
    return target.getvalue()


def csv_of(lines: Sequence[Line]) -> bytes:
    """Return *lines* as CSV in UTF-8."""
    target = io.StringIO()
    writer = csv.writer(target)
    for line in lines:
        writer.writerow([_text(value) for value in line])
    return target.getvalue().encode()


def _fill(sheet: Worksheet, lines: Sequence[Line]) -> None:
    for row, line in enumerate(lines, start=1):
        for column, value in enumerate(line, start=1):
            if value is not None:
                _write(sheet, row, column, value)
    widest = max(map(len, lines), default=0)
    for column in range(1, widest + 1):
        lengths = [len(str(row[column - 1])) for row in lines if len(row) >= column]
        width = min(max(NARROWEST, *lengths), WIDEST) if lengths else NARROWEST
        sheet.column_dimensions[get_column_letter(column)].width = width


def _write(sheet: Worksheet, row: int, column: int, value: Value) -> None:
    """Write a cell; a text is never a formula, a number keeps every digit."""
    if isinstance(value, float) and float(KEPT % value) != value:
        value = repr(value)
    cell = sheet.cell(row, column)
    if isinstance(value, str):
        cell.value = value.translate(CONTROL)
        cell.data_type = "s"
        cell.quotePrefix = value[:1] in ("=", "+", "-", "@")
        cell.number_format = "@"
    else:
        cell.value = value


def _text(value: Value) -> str:
    if value is None:
        return ""
    return guarded(value) if isinstance(value, str) else repr(value)

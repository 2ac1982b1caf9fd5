"""A lineup as a table to be filled in or kept: what `read_lineup_table` reads back."""

import csv
import io
from collections.abc import Sequence

from openpyxl import Workbook
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from models.analysis.tables.csv_text import guarded
from models.record.lineup_draft import LineupDraft
from models.record.lineup_table import table_of, template_of
from models.record.lineup_table.headings import (
    LINEUP_SHEET,
    TABLE_SHEET,
    WORDS_SHEET,
)
from models.record.lineup_table.write_rows import Line, Table, Value, words

NARROWEST, WIDEST = 10, 40  # characters of a column
CONTROL = dict.fromkeys(  # what a workbook cannot hold
    n for n in range(32) if chr(n) not in "\t\n\r"
)
KEPT = "%.16g"  # how the library writes a number


def lineup_workbook(draft: LineupDraft) -> bytes:
    """Return *draft* as a workbook (XLSX) of two sheets."""
    return _workbook(table_of(draft))


def lineup_csv(draft: LineupDraft) -> bytes:
    """Return *draft* as CSV in UTF-8."""
    return _csv(table_of(draft))


def template_workbook(gear: str) -> bytes:
    """Return an empty workbook for a *gear*, with what may stand in it."""
    return _workbook(template_of(gear))


def template_csv(gear: str) -> bytes:
    """Return an empty CSV file for a *gear*."""
    return _csv(template_of(gear))


def _workbook(table: Table) -> bytes:
    book = Workbook()
    book.remove(book.worksheets[0])
    _fill(book.create_sheet(LINEUP_SHEET), table.before)
    sheet = book.create_sheet(TABLE_SHEET)
    _fill(sheet, table.rows)
    sheet.freeze_panes = "C2"
    for cell in sheet[1]:
        cell.font = Font(bold=True)
    _fill(book.create_sheet(WORDS_SHEET), list(words()))
    target = io.BytesIO()
    book.save(target)
    return target.getvalue()


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


def _csv(table: Table) -> bytes:
    target = io.StringIO()
    writer = csv.writer(target)
    for line in (*table.before, (), *table.rows):
        writer.writerow([_text(value) for value in line])
    return target.getvalue().encode()


def _text(value: Value) -> str:
    if value is None:
        return ""
    return guarded(value) if isinstance(value, str) else repr(value)

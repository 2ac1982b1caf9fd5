"""A lineup as a table to be filled in or kept: what `read_lineup_table` reads back."""

from models.analysis.tables.write_table import csv_of, workbook_of
from models.record.lineup_draft import LineupDraft
from models.record.lineup_table import table_of, template_of
from models.record.lineup_table.headings import (
    LINEUP_SHEET,
    TABLE_SHEET,
    WORDS_SHEET,
)
from models.record.lineup_table.write_rows import Table, words


def lineup_workbook(draft: LineupDraft) -> bytes:
    """Return *draft* as a workbook (XLSX) of two sheets, and one of words."""
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
    sheets = {
        LINEUP_SHEET: table.before,
        TABLE_SHEET: table.rows,
        WORDS_SHEET: list(words()),
    }
    return workbook_of(sheets, TABLE_SHEET)


def _csv(table: Table) -> bytes:
    return csv_of([*table.before, (), *table.rows])

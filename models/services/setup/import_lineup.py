"""A lineup from a table that somebody filled in: CSV or a workbook."""

from models.analysis.tables import read_table
from models.record.lineup_draft import LineupDraft
from models.record.lineup_table import read_rows


def read_lineup_table(data: bytes) -> LineupDraft:
    """Return the lineup in *data*, a CSV file or a workbook (XLSX).

    Raises InputError with every fault, its field the place: `Apparatus, row 7, column
    G`. The file is read in a process of its own, with limits; docs/lineup-table.md.
    """
    return read_rows(read_table(data))

"""Read a table that somebody filled in: a workbook or CSV, by its first bytes."""

from collections.abc import Callable, Mapping, Sequence

from models.analysis.tables.any_csv import any_csv_rows
from models.analysis.tables.csv_text import csv_rows
from models.analysis.tables.places import MOST_BYTES, Row
from models.analysis.tables.workbook import refused, workbook_sheets

CSV_SHEET = ""  # a CSV file has one sheet, and no name for it
OF_A_ZIP = b"PK\x03\x04"
OF_AN_OLD_FILE = b"\xd0\xcf\x11\xe0"


def read_table(data: bytes) -> Mapping[str, Sequence[Row]]:
    """Return the rows of each sheet of *data*, those that are not blank.

    Raises InputError for a file that is too large or of another kind; what is wrong
    with a cell stands beside its text.
    """
    return _sheets(data, csv_rows)


def read_any_table(data: bytes) -> Mapping[str, Sequence[Row]]:
    """Return what `read_table` does, of a CSV file as any program writes it.

    Its cells may be parted by commas, semicolons or tabs, its text be UTF-8, UTF-16
    or Latin-1.
    """
    return _sheets(data, any_csv_rows)


def _sheets(
    data: bytes, of_csv: Callable[[bytes], Sequence[Row]]
) -> Mapping[str, Sequence[Row]]:
    if len(data) > MOST_BYTES:
        has, most = len(data) >> 20, MOST_BYTES >> 20
        raise refused(f"The file has {has} MB; {most} MB is the most.")
    if not data.strip():
        raise refused("The file is empty.")
    if data.startswith(OF_AN_OLD_FILE):
        said = "This is an old workbook (XLS), or one with a password: save it as XLSX."
        raise refused(said)
    if data.startswith(OF_A_ZIP):
        return workbook_sheets(data)
    return {CSV_SHEET: of_csv(data)}

"""Open a readings file of any format: what it is, its first bytes say."""

from typing import BinaryIO

from models.analysis.parts import ROWS, Source, whole_file
from models.analysis.read_csv import CsvSource


def open_readings(file: BinaryIO, sheet: str | None = None, rows: int = ROWS) -> Source:
    """Return the source of a file that can be wound back, in parts of so many rows.

    Raises InputError; ModuleNotFoundError for Parquet where its library is missing.
    """
    begin = file.read(4)
    file.seek(0)
    if begin == b"PK\x03\x04":
        from models.analysis.read_workbook import WorkbookSource  # noqa: PLC0415

        return WorkbookSource(file, sheet, rows)
    if sheet is not None:
        raise whole_file("Only a workbook has sheets.")
    if begin == b"PAR1":
        from models.analysis.read_parquet import ParquetSource  # noqa: PLC0415

        return ParquetSource(file, rows)
    return CsvSource(file, rows)

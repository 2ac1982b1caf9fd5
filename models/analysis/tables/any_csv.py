"""A CSV file as test sets write it: whatever parts the cells, however it is coded."""

from collections.abc import Sequence

from models.analysis.tables.csv_text import rows_in
from models.analysis.tables.places import Row
from models.errors import Fault, InputError

PARTED_BY = ("\t", ";", ",")  # a comma may be a decimal sign, so it is tried last
LINES = 50  # that are looked at to find what parts the cells


def any_csv_rows(data: bytes) -> Sequence[Row]:
    """Return the rows that are not blank; InputError where it is no such file."""
    text = _decoded(data)
    return rows_in(text, _parted_by(text))


def as_utf8(data: bytes) -> bytes:
    """Return a CSV file in UTF-8, in which files are kept; a workbook as it is."""
    if data.startswith(b"PK\x03\x04"):
        return data
    return _decoded(data).encode()


def _decoded(data: bytes) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return _strict(data, "utf-16")
    if b"\0" in data:
        said = "This is neither a workbook (XLSX) nor a CSV file."
        raise InputError(Fault(field="the file", message=said))
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("latin-1")


def _strict(data: bytes, coding: str) -> str:
    try:
        return data.decode(coding)
    except UnicodeDecodeError as error:
        said = "The file begins as UTF-16 and does not go on so: it was cut."
        raise InputError(Fault(field="the file", message=said)) from error


def _parted_by(text: str) -> str:
    """Return the sign that stands in most lines; a comma where none does."""
    lines = [line for line in text.splitlines()[:LINES] if line.strip()]
    for sign in PARTED_BY[:-1]:
        if sum(sign in line for line in lines) * 2 > len(lines):
            return sign
    return PARTED_BY[-1]

"""Rows of an instrument's table: numbers, times, faults by column."""

import io
from datetime import datetime

import openpyxl
import pytest

from models.analysis.tables import read_any_table
from models.errors import InputError
from models.record.readings_table import Columns, read_readings
from models.record.readings_table.columns import rows_left_out
from models.record.readings_table.read import plain_number

NUMBERS = {
    "a point": ("1234.5", ".", "1234.5"),
    "a comma": ("1234,5", ",", "1234.5"),
    "points group, a comma": ("1.234,5", ",", "1234.5"),
    "commas group, a point": ("1,234.5", ".", "1234.5"),
    "a blank groups": ("12 345,0", ",", "12345.0"),
    "an exponent": ("2.1e-4", ".", "2.1e-4"),
    "a comma with a decimal point": ("1,5", ".", None),
    "a point with a decimal comma": ("1.5", ",", None),
    "a true minus": ("\u22125", ".", "-5"),
    "a word": ("held", ".", None),
}


@pytest.mark.parametrize(("typed", "decimal", "plain"), NUMBERS.values(), ids=NUMBERS)
def test_a_number_is_read_with_the_sign_that_is_chosen(
    typed: str, decimal: str, plain: str | None
) -> None:
    assert plain_number(typed, decimal) == plain


CODED = {
    "semicolons": b"Point;Value\nA;8,1\n",
    "a byte order mark": '\ufeffPoint,Value\nA,"8,1"\n'.encode(),
    "tabs in UTF-16": "Point\tValue\nA\t8,1\n".encode("utf-16"),
    "Latin-1": "Point;Value;\u00b0C\nA;8,1;20\n".encode("latin-1"),
}


@pytest.mark.parametrize("data", CODED.values(), ids=CODED)
def test_a_file_is_read_however_it_is_coded(data: bytes) -> None:
    (rows,) = read_any_table(data).values()
    (one,) = read_readings(rows, Columns(point=0, value=1, decimal=","), set(), "UTC")
    assert (one.row, one.point, one.text, one.faults) == (2, "A", "8.1", [])


FAULTS = {
    "over range": ("A,>2000", None, "beyond the range"),
    "not a number": ("A,1.2.3", None, "not a number"),
    "no value": ("A,", None, "value is missing"),
    "no point": (",8", None, "point is missing"),
    "no time": ("A,8,soon", 2, "no time"),
    "twice": ("A,8\nA,9", None, "Row 2 has the same point"),
}


@pytest.mark.parametrize(("body", "taken", "words"), FAULTS.values(), ids=FAULTS)
def test_a_fault_is_said(body: str, taken: int | None, words: str) -> None:
    (rows,) = read_any_table(f"Point,Value,Time\n{body}\n".encode()).values()
    columns = Columns(point=0, value=1, taken=taken)
    said = [f for one in read_readings(rows, columns, set(), "UTC") for f in one.faults]
    assert len(said) == 1
    assert words in said[0][1]


def test_over_range_is_read_as_it_was_chosen() -> None:
    (rows,) = read_any_table(b"Point,Value\nA,>2000\nB,OL\n").values()
    columns = Columns(point=0, value=1, bounds=True, over_word="ol", over_from="5000")
    read = read_readings(rows, columns, set(), "UTC")
    assert [one.text for one in read] == [">2000", ">5000"]


def test_a_workbook_gives_its_own_dates_and_refuses_what_is_merged_or_hidden() -> None:

    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (
        ["Point", "Value", "Time"],
        ["A", 8.1, datetime(2026, 5, 12, 14, 5)],  # noqa: DTZ001 (as workbooks hold it)
        ["B", "=1+1", "12.05.2026 14:06"],
        ["C", 3, None],
        ["", 3, None],
        ["D", 3, "12.05.2026 14:06"],
    ):
        sheet.append(row)
    sheet.merge_cells("A4:A5")
    sheet.row_dimensions[6].hidden = True
    kept = io.BytesIO()
    book.save(kept)
    (rows,) = read_any_table(kept.getvalue()).values()
    columns = Columns(point=0, value=1, taken=2, time_format="%d.%m.%Y %H:%M:%S")
    read = read_readings(rows, columns, set(), "Europe/Berlin")
    one, formula, merged, _, hidden = read
    assert one.taken_at is not None
    assert one.taken_at.isoformat() == "2026-05-12T14:05:00+02:00"
    assert "formula without a stored result" in formula.faults[0][1]
    assert "merged cells" in merged.faults[0][1]
    assert "hidden row" in hidden.faults[0][1]


def test_rows_are_left_out_by_number() -> None:
    assert rows_left_out("2, 5-7") == {2, 5, 6, 7}
    with pytest.raises(InputError):
        rows_left_out("two")

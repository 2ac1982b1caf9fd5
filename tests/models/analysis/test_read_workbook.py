"""A workbook is read as the same rows in CSV, or refused with the cell's place."""

import datetime
import io
import tracemalloc
import zipfile
from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from openpyxl import Workbook

from models.analysis.judge_file import checked_file
from models.analysis.judge_part import JudgedPart, judge_all
from models.analysis.open_readings import open_readings
from models.criteria import load
from models.errors import InputError

HEAD = ["id", "test", "value", "unit", "rated_kv", "temperature_c", "test_kv"]
GOOD = ["r", "insulation_resistance", 4.2, "GOhm", 15, 31, 2.5]
CRITERIA = load()


def book(*rows: Sequence[Any], sheets: Sequence[str] = ("Readings",)) -> bytes:
    made = Workbook()
    made.remove(made.active)
    for name in sheets:
        sheet = made.create_sheet(name)
        for row in rows:
            sheet.append(list(row))
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def judged(data: bytes, sheet: str | None = None) -> list[JudgedPart]:
    source = open_readings(io.BytesIO(data), sheet)
    with checked_file(source, CRITERIA, lambda _rows: None) as checked:
        return [judge_all(work) for work in checked.work()]


def faults(data: bytes, sheet: str | None = None) -> list[str]:
    with pytest.raises(InputError) as refused:
        judged(data, sheet)
    return [str(fault) for fault in refused.value.faults]


def test_a_sheet_is_judged() -> None:
    rows = [["a", *GOOD[1:]], [], ["b", *GOOD[1:2], ">200", *GOOD[3:]]]
    [part] = judged(book(HEAD, *rows))
    said = [(row.id, row.judgement.verdict) for row in part.judged_rows()]
    assert said == [("a", "within"), ("b", "within")]
    assert part.said[0].working[0].startswith("4.2 GΩ at 31 °C × 1.656 = 6.956 GΩ")


# A spreadsheet keeps 15 significant digits (common practice of spreadsheet programs).
@settings(max_examples=25)
@given(number=st.floats(1e-9, 1e9).map(lambda number: float(f"{number:.15g}")))
@example(number=0.0)
@example(number=0.1)
@pytest.mark.property
def test_a_number_is_the_one_that_was_typed(number: float) -> None:
    row = [*GOOD[:2], number, *GOOD[3:]]
    [part] = judged(book(HEAD, row))
    assert part.said[0].value == number


WRONG_CELLS: dict[str, tuple[Any, str]] = {
    "a formula": ("=2*2.1", "a formula"),
    "a date": (datetime.date(2026, 4, 2), "a date or a time"),
    "a time": (datetime.time(4, 20), "a date or a time"),
    "a truth": (True, "TRUE or FALSE"),
    "an error": ("#N/A", "an error"),
    "a decimal comma": ("4,2", "has a comma"),
    "a word": ("good", "is not a number"),
}


@pytest.mark.parametrize(("cell", "said"), WRONG_CELLS.values(), ids=WRONG_CELLS)
def test_a_wrong_cell_is_refused_with_its_place(cell: Any, said: str) -> None:
    row = [*GOOD[:2], cell, *GOOD[3:]]
    found = faults(book(HEAD, ["a", *GOOD[1:]], row))
    assert found[0].startswith("row 3, column value: ")
    assert said in found[0]


def test_a_percentage_is_not_taken_for_a_hundredth_of_it() -> None:
    """5 % that was typed as such is stored as 0.05 and shown as 5%."""
    made = Workbook()
    made.active.append([*HEAD, "accuracy"])
    made.active.append([*GOOD, 0.05])
    made.active["H2"].number_format = "0%"
    out = io.BytesIO()
    made.save(out)
    said = "row 2, column accuracy: a number shown as a percentage"
    assert faults(out.getvalue())[0].startswith(said)


def test_a_cell_beyond_the_header_is_a_fault() -> None:
    found = faults(book(HEAD, [*GOOD, "", "9"]))
    assert found == ["row 2: cells beyond the 7 of the header."]


def test_an_id_twice_is_said_by_rows() -> None:
    assert faults(book(HEAD, GOOD, [], GOOD)) == [
        "row 4, column id: 'r' was used in row 2 already."
    ]


def test_of_several_sheets_one_must_be_named() -> None:
    data = book(HEAD, GOOD, sheets=("North", "South"))
    said = "row 1: name the sheet with --sheet; the workbook has North, South."
    assert faults(data) == [said]
    assert faults(data, "West") == [said]
    assert len(judged(data, "South")[0].ids) == 1


def archive(**files: str) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as made:
        for name, text in files.items():
            made.writestr(name, text)
    return out.getvalue()


NO_WORKBOOKS = {
    "a signature alone": b"PK\x03\x04" + bytes(30),
    "an archive of another kind": archive(mimetype="text"),
    "a workbook torn off": book(HEAD, GOOD)[:900],
}


@pytest.mark.parametrize("data", NO_WORKBOOKS.values(), ids=NO_WORKBOOKS)
def test_what_is_no_workbook_is_refused(data: bytes) -> None:
    assert faults(data) == ["row 1: this is not a workbook (XLSX) that can be read."]


def test_an_empty_sheet_is_refused() -> None:
    assert faults(book()) == ["row 1: The sheet is empty: a header row is wanted."]


def test_a_cell_far_right_costs_no_more_than_one_nearby() -> None:
    """The last column of a sheet is XFD (common practice of spreadsheet programs)."""
    rows = 200
    made = Workbook()
    made.active.append(HEAD)
    for row in range(2, rows + 2):
        made.active.cell(row, 16384, "9")
    out = io.BytesIO()
    made.save(out)
    tracemalloc.start()
    try:
        found = faults(out.getvalue())
        _, peak = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert found[0] == "row 2: cells beyond the 7 of the header."
    assert peak < rows * 16384 * 8  # bytes: a pointer a cell


def repacked(data: bytes, name: str, old: bytes, new: bytes) -> bytes:
    """Return a workbook with a part of it changed."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as read, zipfile.ZipFile(out, "w") as made:
        for entry in read.namelist():
            part = read.read(entry)
            made.writestr(entry, part.replace(old, new) if entry == name else part)
    return out.getvalue()


@pytest.mark.slow
def test_a_row_beyond_the_last_is_a_fault() -> None:
    data = repacked(
        book(HEAD, GOOD), "xl/worksheets/sheet1.xml", b'row r="2"', b'row r="9999999"'
    )
    assert faults(data) == ["row 1048577: a sheet ends at row 1048576."]


def test_what_is_beside_the_sheets_is_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("models.analysis.read_workbook.LARGEST_BESIDE", 1000)
    said = "row 1: this is not a workbook (XLSX) that can be read: it is too large."
    assert faults(book(HEAD, GOOD)) == [said]

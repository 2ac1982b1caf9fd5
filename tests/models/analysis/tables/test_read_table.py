"""Cells of files that people fill in: what is read, and what is refused."""

import datetime
import io
import time
import zipfile
from collections.abc import Callable
from typing import Any

import pytest
from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from models.analysis.tables import read_table
from models.analysis.tables.csv_text import csv_rows, guarded, plain
from models.analysis.tables.workbook import workbook_sheets
from models.analysis.tables.workbook_program import sheets_of
from models.errors import InputError


def saved(fill: Callable[[Worksheet], object]) -> bytes:
    """Return a workbook of one sheet that *fill* has filled."""
    book = Workbook()
    sheet = book.worksheets[0]
    sheet.title = "One"
    fill(sheet)
    target = io.BytesIO()
    book.save(target)
    return target.getvalue()


def put(address: str, value: Any, shown_as: str = "") -> Callable[[Worksheet], None]:
    def fill(sheet: Worksheet) -> None:
        sheet[address] = value
        if shown_as:
            sheet[address].number_format = shown_as

    return fill


def merged(sheet: Worksheet) -> None:
    sheet["A1"] = "feeder"
    sheet.merge_cells("A1:A2")
    sheet["B2"] = "next"


def hidden_row(sheet: Worksheet) -> None:
    sheet["A1"] = "seen"
    sheet.row_dimensions[1].hidden = True


def hidden_column(sheet: Worksheet) -> None:
    sheet["B1"] = "seen"
    sheet.column_dimensions["B"].hidden = True


DATE = datetime.date(2026, 11, 29)
# What is in the sheet: its first filled row, each cell as (text, what is wrong).
CELLS = {
    "a text": (put("A1", " 52-1 "), [(" 52-1 ", "")]),
    "a number": (put("A1", 31.5), [("31.5", "")]),
    "a whole number": (put("B1", 15), [("", ""), ("15", "")]),
    "zeros before it": (put("A1", 7, "0000"), [("7", "is shown as 0007")]),
    "too many digits": (put("A1", 1234567890123456789), [("1.2345678", "15 digits")]),
    "a percentage": (put("A1", 0.05, "0%"), [("0.05", "as a percentage")]),
    "a date": (put("A1", DATE), [("", "a date or a time")]),
    "an error": (put("A1", "#DIV/0!"), [("", "the error #DIV/0!")]),
    "true": (put("A1", True), [("", "TRUE: write yes or no")]),
    "a formula that was never worked out": (put("A1", "=1+1"), [("", "stored result")]),
    "merged": (merged, [("feeder", "the merged cells A1:A2")]),
    "hidden row": (hidden_row, [("seen", "a hidden row")]),
    "hidden column": (hidden_column, [("", ""), ("seen", "a hidden column")]),
    "a long text": (put("A1", "x" * 3000), [("x" * 2000, "2000 characters")]),
}


@pytest.mark.parametrize(("fill", "expected"), CELLS.values(), ids=CELLS)
def test_a_cell(
    fill: Callable[[Worksheet], None], expected: list[tuple[str, str]]
) -> None:
    rows = sheets_of(saved(fill))["sheets"]["One"]
    assert len(rows[0][1]) == len(expected)
    for (text, wrong), (start, words) in zip(rows[0][1], expected, strict=True):
        assert text.startswith(start)
        assert (words in wrong) if words else not wrong


def test_a_formula_with_its_result_is_the_result() -> None:
    """What a spreadsheet program stores beside the formula is taken."""
    data = saved(put("A1", "=10+5"))
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    sheet = "xl/worksheets/sheet1.xml"
    assert parts[sheet].count(b"<v></v>") + parts[sheet].count(b"<v/>") == 1
    for nothing in (b"<v></v>", b"<v/>"):
        parts[sheet] = parts[sheet].replace(nothing, b"<v>15</v>")
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as archive:
        for name, part in parts.items():
            archive.writestr(name, part)
    assert sheets_of(target.getvalue())["sheets"]["One"] == [(1, [("15", "")])]


def test_a_cell_far_out_is_refused_at_once() -> None:
    start = time.perf_counter()
    fault = sheets_of(saved(put("ALL200000", "x")))["fault"]
    assert fault[0] == "One, row 200000, column ALL"
    assert "filled far out" in fault[1]
    assert time.perf_counter() - start < 2


def archive_of(**entries: bytes) -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, part in entries.items():
            archive.writestr(name.replace("__", "/"), part)
    return target.getvalue()


REFUSED = {
    "empty": (b"  \n", "The file is empty"),
    "60 MB": (b"a" * (60 << 20), "The file has 60 MB; 4 MB is the most"),
    "an old workbook": (b"\xd0\xcf\x11\xe0" + b"\0" * 99, "an old workbook"),
    "no archive": (b"PK\x03\x04 and so on", "is not a workbook"),
    "an archive of other things": (archive_of(a=b"b"), "is not a workbook"),
    "macros": (archive_of(**{"xl__vbaProject.bin": b""}), "holds macros"),
    "OpenDocument": (archive_of(**{"content.xml": b""}), "OpenDocument"),
    "unfolds to 70 MB": (archive_of(x=b"0" * (70 << 20)), "too large once unfolded"),
    "UTF-16": ("Cell,1".encode("utf-16"), "UTF-16"),
    "another encoding": ("Cell\nZelle f\xfcnf".encode("latin-1"), "0xfc is not UTF-8"),
    "a picture": (b"\x89PNG\r\n\x1a\n\0\0", "neither a workbook"),
    "semicolons": (b"Cell;Cell name;Label\n1;A;B\n", "parted by semicolons"),
    "tabs": (b"Cell\tCell name\tLabel\n", "parted by tabs"),
    "an open quote": (b'Cell,"Cell name\n1,2\n', "not closed"),
    "no end": (b"x\n" * 6000, "ends at row 5000"),
    "too wide": (b"x," * 400 + b"y\n", "ends at column KN"),
}


@pytest.mark.parametrize(("data", "words"), REFUSED.values(), ids=REFUSED)
def test_a_file_that_is_refused(data: bytes, words: str) -> None:
    with pytest.raises(InputError, match=words):
        read_table(data)


def test_a_workbook_is_read_in_a_process_of_its_own() -> None:
    assert workbook_sheets(saved(put("B2", "=x"[1:]))) == {
        "One": [(2, [("", ""), ("x", "")])]
    }


def test_a_workbook_that_never_ends_is_given_up(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A row repeated: 60 MB of cells unfold to far more than the program may have."""
    row = b'<c t="inlineStr"><is><t>x</t></is></c>' * 100
    rows = b"<row>" + row + b"</row>"
    sheet = b"<worksheet><sheetData>" + rows * 15000 + b"</sheetData></worksheet>"
    whole = saved(put("A1", 1))
    target = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(whole)) as archive,
        zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as larger,
    ):
        for name in archive.namelist():
            part = archive.read(name)
            larger.writestr(name, sheet if name.endswith("sheet1.xml") else part)
    monkeypatch.setattr("models.analysis.tables.workbook.SECONDS", 1)
    with pytest.raises(InputError, match="too large once unfolded"):
        read_table(target.getvalue())


UNPRINTABLE = "holds a character that cannot be printed: type the text again."
CSV = {
    "as it is": (b"a,b\n", [(1, [("a", ""), ("b", "")])]),
    "a mark at the beginning": ("\ufeffa\n".encode(), [(1, [("a", "")])]),
    "blank rows": (b"\n , \na\n", [(3, [("a", "")])]),
    "a bell": (b"a\x07,b\n", [(1, [("", UNPRINTABLE), ("b", "")])]),
    "quoted": (b'"a, b","say ""x"""\n', [(1, [("a, b", ""), ('say "x"', "")])]),
    "guarded": (b"'=1,''a,'b\n", [(1, [("=1", ""), ("'a", ""), ("'b", "")])]),
}


@pytest.mark.parametrize(("data", "rows"), CSV.values(), ids=CSV)
def test_csv(data: bytes, rows: list[tuple[int, list[tuple[str, str]]]]) -> None:
    assert csv_rows(data) == rows


@pytest.mark.parametrize("text", ["=1", "+1", "-1", "@a", "'", "'=", "a", ""])
def test_a_guarded_text_is_no_formula_and_comes_back(text: str) -> None:
    assert not guarded(text).startswith(("=", "+", "-", "@"))
    assert plain(guarded(text)) == text

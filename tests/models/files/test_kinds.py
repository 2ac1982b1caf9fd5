"""What a file is, by its content and never by its name."""

from pathlib import Path

import pytest
from openpyxl import Workbook

from models.errors import InputError
from models.files.kinds import kind_of
from models.files.names import LONGEST_NAME, clean_name
from tests.models.files import made_up_files as made

KEPT = {
    "JPEG": (made.jpeg(), "jpeg"),
    "PNG": (made.png(), "png"),
    "WebP": (made.saved(made.two_halves(), "WEBP"), "webp"),
    "PDF": (made.PDF, "pdf"),
    "workbook": (made.workbook(), "xlsx"),
    "table with commas": (b"point,value\nA-G,41\nB-G,44\n", "csv"),
    "table with semicolons": (b"\xef\xbb\xbfpoint;value\nA-G;41,5\n", "csv"),
    "text": ("Rubbing on pole B – put right.\n".encode(), "txt"),
    "text with one comma": (b"First, look.\nThen measure.\n", "txt"),
    "waveform record": (
        made.archive({"s.cfg": b"S,D,1999", "s.dat": b"\0"}),
        "waveform",
    ),
    "combined waveform record": (b"--- file type: CFG ---\r\nS,D,2013\r\n\0", "cff"),
    "COMTRADE's configuration": (b"Plinth,FR-1,2013\n4,2A,2D\n1,IA,A,,A,0.1\n", "txt"),
}


@pytest.mark.parametrize(("content", "kind"), KEPT.values(), ids=KEPT)
def test_what_is_kept(tmp_path: Path, content: bytes, kind: str) -> None:
    path = tmp_path / "x"
    path.write_bytes(content)
    assert kind_of(path) == kind


REFUSED = {
    "nothing": (b"", "empty"),
    "program": (b"MZ\x90\x00\x03\x00\x00\x00", "not kept"),
    "text of another coding": ("Größe".encode("latin-1"), "UTF-8"),
    "text of UTF-16": ("Pol B".encode("utf-16"), "UTF-8"),
    "page": (b"<!DOCTYPE html><script>alert(1)</script>", "HTML"),
    "page after words": (b"hello\n<script>alert(1)</script>", "HTML"),
    "drawing": (b'<?xml version="1.0"?><svg onload="alert(1)"/>', "SVG"),
    "drawing after a mark": (b"\xef\xbb\xbf\n <svg/>", "SVG"),
    "picture of another kind": (b"GIF89a\x01\x00\x01\x00\x00\x00\x00", "not kept"),
    "archive": (made.archive({"x.exe": b"MZ"}), "no workbook"),
    "archive of more than a waveform record": (
        made.archive({"s.cfg": b"S,D,1999", "s.dat": b"\0", "x.exe": b"MZ"}),
        "no workbook",
    ),
    "archive that is cut": (made.workbook()[:-30], "cannot be read"),
    "macros by their part": (made.workbook(**{"xl/vbaProject.bin": b"x"}), "macros"),
    "macros by their type": (
        made.workbook(b"application/vnd.ms-excel.sheet.macroEnabled.main+xml"),
        "macros",
    ),
    "workbook with a program": (made.workbook(**{"run.exe": b"MZ"}), "no workbook has"),
    "workbook that leaves its folder": (
        made.workbook(**{"xl/../../x": b"x"}),
        "no workbook has",
    ),
    "workbook that unfolds": (
        made.workbook(**{"xl/sheet.xml": b" " * 210_000_000}),
        "unfolds",
    ),
    "PDF that is cut": (made.PDF[:20], "does not end"),
    "PDF with a tail": (made.PDF + b"MZ\x90", "does not end"),
    "PDF that is an archive": (
        made.PDF + made.archive({"a": b"b"}),
        "does not end",
    ),
    "archive hidden in a PDF": (
        b"%PDF-1.7\n" + made.archive({"a": b"b"})[:-2] + b"\x07\x00\n%%EOF\n",
        "archive too",
    ),
}


@pytest.mark.parametrize(("content", "why"), REFUSED.values(), ids=REFUSED)
def test_what_is_refused(tmp_path: Path, content: bytes, why: str) -> None:
    path = tmp_path / "photo.jpg"
    path.write_bytes(content)
    with pytest.raises(InputError, match=why) as refusal:
        kind_of(path)
    assert [fault.field for fault in refusal.value.faults] == ["file"]


def test_a_workbook_of_another_program_is_one(tmp_path: Path) -> None:
    book = Workbook()
    book.active.append(["point", "value"])
    book.save(tmp_path / "x")
    assert kind_of(tmp_path / "x") == "xlsx"


JPG = (".jpg", ".jpeg")
NAMES = {
    "as it is": ("cell 7.jpg", "cell 7.jpg"),
    "the other ending": ("cell 7.JPEG", "cell 7.JPEG"),
    "a program's name and a path": (r"..\..\x.exe", "x.exe.jpg"),
    "a path": ("/etc/passwd", "passwd.jpg"),
    "a path at the end": ("x/", "file.jpg"),
    "nothing": ("", "file.jpg"),
    "dots": ("...", "file.jpg"),
    "a device": ("CON.jpg", "_CON.jpg"),
    "signs of other systems": ('a<b>:"c|d?*.jpg', "a_b___c_d__.jpg"),
    "a line break": ("a\r\nb.jpg", "ab.jpg"),
    "letters that run the other way": ("inv\u202egpj.exe", "invgpj.exe.jpg"),
    "accents in two parts": ("e\u0301.jpg", "\u00e9.jpg"),
    "long": ("x" * 300 + ".jpg", "x" * (LONGEST_NAME - 4) + ".jpg"),
}


@pytest.mark.parametrize(("given", "shown"), NAMES.values(), ids=NAMES)
def test_a_name_is_harmless_and_still_to_be_read(given: str, shown: str) -> None:
    assert clean_name(given, JPG) == shown

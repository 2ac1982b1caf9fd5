"""A readings file in parts and columns against the same file row by row."""

import csv
import io
import math
import random
import tracemalloc
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any, NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.analysis.judge_file import checked_file
from models.analysis.judge_part import JudgedPart, Work, judge_all, judge_briefly
from models.analysis.read_csv import CsvSource
from models.analysis.readings_file import COLUMNS, MOST_FAULTS
from models.criteria import load
from models.errors import InputError
from models.judging import Judgement
from models.judging.batch import VERDICT_CODES
from tests.laws import costly
from tests.models.analysis.row_by_row import judge_rows, read_rows
from tests.models.analysis.test_judge_frame import as_file, made_up

NUMBERS = ("corrected", "limit_low", "limit_high", "uncertainty")
RELATIVE = 1e-9
CRITERIA = load()


class Answer(NamedTuple):
    """What became of a file: its faults, or an id and a judgement a row."""

    faults: list[str]
    rows: list[tuple[str, Judgement]]


def row_by_row(data: bytes, *, notes: bool = True) -> Answer:
    try:
        rows = read_rows(data, CRITERIA)
    except InputError as error:
        return Answer([str(fault) for fault in error.faults], [])
    if not notes:
        rows = [row._replace(rule=replace(row.rule, notes=())) for row in rows]
    return Answer([], [(row.id, judgement) for row, judgement in judge_rows(rows)])


def in_parts(
    data: bytes,
    rows: int,
    judge: Callable[[Work], JudgedPart],
) -> tuple[list[str], list[JudgedPart]]:
    """Judge a file in parts of so many rows."""
    try:
        source = CsvSource(io.BytesIO(data), rows)
        with checked_file(source, CRITERIA, lambda _rows: None) as checked:
            return [], [judge(part) for part in checked.work()]
    except InputError as error:
        return [str(fault) for fault in error.faults], []


def with_words(data: bytes, rows: int) -> Answer:
    faults, parts = in_parts(data, rows, judge_all)
    judged = [row for part in parts for row in part.judged_rows()]
    return Answer(faults, [(row.id, row.judgement) for row in judged])


def unlike(part: JudgedPart, wanted: Sequence[tuple[str, Judgement]]) -> list[Any]:
    """Return what a part judged in columns has otherwise than it should."""
    found = []
    for row, (name, judgement) in enumerate(wanted):
        verdict = VERDICT_CODES[part.judged.verdict[row]]
        same = [
            part.ids[row] == name,
            verdict == judgement.verdict,
            part.sources[row] == judgement.cite,
            (row in part.said) == (verdict != "within"),
            row not in part.said or part.said[row].reason == judgement.reason,
            *(
                near(getattr(part.judged, n)[row], getattr(judgement, n))
                for n in NUMBERS
            ),
        ]
        if not all(same):
            found.append((row, same, judgement))
    return found


def near(number: float, wanted: float | None) -> bool:
    if wanted is None:
        return math.isnan(number)
    return math.isclose(number, wanted, rel_tol=RELATIVE)


def differences(data: bytes, rows: int) -> list[Any]:
    """Return in what the file in parts is not the file row by row."""
    wanted = row_by_row(data)
    found: list[Any] = []
    if with_words(data, rows) != wanted:
        found.append(("words", wanted, with_words(data, rows)))
    faults, parts = in_parts(data, rows, judge_briefly)
    if faults != wanted.faults:
        found.append(("faults", wanted.faults, faults))
    bare = row_by_row(data, notes=False).rows
    for part in parts:
        end = part.start + len(part.ids)
        found += unlike(part, bare[part.start : end])
    return found


@pytest.mark.property
@costly(4, house=2)
@given(seed=st.integers(0, 2**32), rows=st.sampled_from((1, 7, 100, 2000)))
def test_made_up_files_are_judged_as_row_by_row(seed: int, rows: int) -> None:
    """Groups are spread over the parts, and have several rules."""
    dice = random.Random(seed)
    data = as_file([made_up(dice) for _ in range(700)])
    assert differences(data, rows) == []


CELLS = st.sampled_from(
    [
        *("", "1", "9.0", ">200", "<0.01", "-3", "1e40", "nan", "held", "no_trip"),
        *("3e-4", "3e", "4,2", "1 000", "1'000", "1_000", "\u00a04.2", "4\u00a02"),
        *("inf", "-inf", "+5", ".5", "5.", "0x10", "\u0664", "-0", "\ufeff7", "  "),
        *("insulation_resistance", "contact_resistance", "relay_timing"),
        *("dielectric_withstand", "vacuum_integrity", "metal_clad", "15", "2.5"),
        *("GOhm", "uOhm", "s", "Pa", "ac", "dc", "magnetron", "60", "20", "100"),
        *("ieee_very_inverse", "5% + 0.02", "copper", "solid", "Ω", "\x00", " 9 "),
        *('"', "a\nb", "a\r\nb", "\r", "=1+1"),
    ]
) | st.text(max_size=5)


def file_of(columns: list[str], rows: list[list[str]]) -> bytes:
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows([columns, *rows])
    return out.getvalue().encode("utf-8", "surrogatepass")


@st.composite
def files(draw: st.DrawFn) -> bytes:
    columns = draw(st.permutations(COLUMNS).map(lambda names: list(names)[:12]))
    columns = [*dict.fromkeys(["id", "test", "value", *columns])]
    width = draw(st.sampled_from((0, 0, 0, 1))) + len(columns)
    row = st.lists(CELLS, min_size=len(columns), max_size=width)
    return file_of(columns, draw(st.lists(row, max_size=4)))


@pytest.mark.property
@costly(200, house=50)
@given(data=files(), rows=st.integers(1, 3))
def test_any_file_is_read_or_refused_as_row_by_row(data: bytes, rows: int) -> None:
    assert differences(data, rows) == []


GOOD = {
    "test": "insulation_resistance",
    "value": "5.00",
    "unit": "GOhm",
    "rated_kv": "15",
    "temperature_c": "20",
    "test_kv": "2.5",
}


@st.composite
def spoilt(draw: st.DrawFn) -> bytes:
    """A sound file with a few cells of it changed."""
    rows = [dict(GOOD) for _ in range(draw(st.integers(1, 4)))]
    for _ in range(draw(st.integers(0, 2))):
        draw(st.sampled_from(rows))[draw(st.sampled_from(list(GOOD)))] = draw(CELLS)
    return as_file(rows)


@pytest.mark.property
@costly(200, house=50)
@given(data=spoilt(), rows=st.integers(1, 3))
def test_a_spoilt_cell_is_read_or_refused_as_row_by_row(data: bytes, rows: int) -> None:
    assert differences(data, rows) == []


@pytest.mark.property
@costly(150, house=40)
@given(data=st.binary(max_size=200))
def test_bytes_are_refused_with_faults(data: bytes) -> None:
    faults, parts = in_parts(data, 2, judge_all)
    assert faults and all(faults)
    assert parts == []


def poles(values: Sequence[str], **more: Sequence[str]) -> bytes:
    """A file of contacts in one group, as far apart as the parts make them."""
    rows = [
        {
            "test": "contact_resistance",
            "group": "G",
            "value": value,
            "unit": "uOhm",
            "temperature_c": "20",
            "test_current_a": "100",
            **{name: cells[at] for name, cells in more.items()},
        }
        for at, value in enumerate(values)
    ]
    return as_file(rows)


GROUPS = {
    "the lowest last": poles(["60", "59", "31", "30"]),
    "a tie for the lowest": poles(["45.1", "30", "30", "46"]),
    "ties with other accuracies": poles(
        ["30", "30", "44.9", "30"], accuracy=["1%", "5%", "1%", ""]
    ),
    "an under-range reading": poles(
        ["40", "<35", "90", "44"], accuracy=["1%", "9%", "2%", "1%"]
    ),
    "accuracies by range": poles(
        ["30", "44.9", "45.1", "46", "0.07"],
        accuracy=["0..40 uOhm: 1%; 40..0.2e3 uOhm: 1% + 0.5% range"] * 4
        + ["0..0.01 mOhm: 2 digits of 0.001; 0.01..0.04 mOhm: 3%"],
    ),
    "over range, all of them": poles([">200", ">200", ">100"]),
    "over range below the lowest": poles(
        ["40", ">30", "61"], accuracy=["1%", "9%", "1%"]
    ),
    "one gated": poles(
        ["10", "40", "61"], test_current_a=["50", "100", "100"], conductor=[""] * 3
    ),
    "another conductor": poles(
        ["40", "41", "61"],
        temperature_c=["60", "20", "20"],
        conductor=["aluminium", "", "copper"],
    ),
    "a limit for one": poles(["40", "41", "65"], limit=["", "60", ""]),
}


@pytest.mark.parametrize("rows", [1, 2, 10])
@pytest.mark.parametrize("data", GROUPS.values(), ids=GROUPS)
def test_a_group_over_several_parts(data: bytes, rows: int) -> None:
    assert row_by_row(data).faults == []
    assert differences(data, rows) == []


FILES: dict[str, bytes] = {
    "nothing": b"",
    "a byte order mark alone": b"\xef\xbb\xbf",
    "an end of line": b"\n",
    "commas alone": b",,\n,,\n",
    "zeros": bytes(64),
    "another encoding": "id,test,value\n1,Ω,2\n".encode("utf-16"),
    "an open quote": b'id,test,value\n"1,insulation_resistance,2\n',
    "a quote inside": b'id,test,value\na"b"c,vacuum_integrity,"2"x\n',
    "a column twice": b"id,id,test,value\n",
    "more cells than columns": b"id,test,value\n1,contact_resistance,2,3\n",
    "a header alone": b"id,test,value\n",
    "a header and blanks": b"id,test,value\n\n , ,\n\n",
    "an id twice, far apart": b"id,test,value\n"
    + b"".join(b"%d,vacuum_integrity,held\n" % n for n in (*range(9), 0, 5)),
    "a row torn off": b"id,test,value\n1,vacuum_integrity,held\n2,vacuum_in",
    "carriage returns alone": b"id,test,value\r1,vacuum_integrity,held\r",
    "a cell that is very long": b"id,test,value\n1,vacuum_integrity," + b"9" * 200_000,
}


@pytest.mark.parametrize("data", FILES.values(), ids=FILES)
def test_a_file_at_the_edge(data: bytes) -> None:
    assert differences(data, 4) == []


def test_a_byte_of_another_encoding_far_into_the_file_has_its_line() -> None:
    rows = [{**GOOD, "point": "x" * 90} for _ in range(12_000)]
    data = as_file(rows).replace(b"r11000,", b"r\xb5000,")
    said = row_by_row(data).faults
    assert said == in_parts(data, 5000, judge_briefly)[0]
    assert said[0].startswith("line 11002: byte 0xb5 is not UTF-8")


def test_ids_that_come_again_without_end_take_no_memory_each() -> None:
    rows = 40_000
    data = b"id,test,value\n" + b"a,vacuum_integrity,held\n" * rows
    tracemalloc.start()
    try:
        faults, _ = in_parts(data, 1000, judge_briefly)
        _, peak = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert len(faults) == MOST_FAULTS
    assert faults[0] == "line 3, column id: 'a' was used in line 2 already."
    assert peak < rows * 300  # bytes, of which a fault has more

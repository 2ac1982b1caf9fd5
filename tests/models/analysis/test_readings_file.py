"""Whatever bytes a readings file holds: rows, or every fault with its place."""

import csv
import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.analysis.readings_file import judge_rows, read_rows
from models.errors import InputError
from models.judging import Criteria

COLUMNS = (
    *("id", "test", "gear", "rated_kv", "rated_withstand_kv", "group", "point"),
    *("value", "unit", "temperature_c", "humidity_pct", "test_kv", "supply"),
    *("method", "duration_s", "test_current_a", "insulation", "conductor", "limit"),
    *("curve", "pickup_a", "applied_a", "time_dial", "tolerance_pct", "accuracy"),
)
CELLS = st.sampled_from(
    [
        *("", "1", "9.0", ">200", "<0.01", "-3", "1e40", "nan", "held", "no_trip"),
        *("insulation_resistance", "contact_resistance", "relay_timing"),
        *("dielectric_withstand", "vacuum_integrity", "metal_clad", "15", "2.5"),
        *("GOhm", "uOhm", "s", "Pa", "ac", "dc", "magnetron", "60", "20", "100"),
        *("ieee_very_inverse", "5% + 0.02", "copper", "solid", "Ω", "\x00", " 9 "),
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
    row = st.lists(CELLS, min_size=len(columns), max_size=len(columns))
    return file_of(columns, draw(st.lists(row, max_size=3)))


def faults_of(data: bytes, criteria: Criteria) -> list[str] | None:
    """Return what is wrong with the file; None when every row of it was judged."""
    try:
        rows = read_rows(data, criteria)
    except InputError as error:
        return [fault.message for fault in error.faults]
    assert len(list(judge_rows(rows))) == len(rows)
    return None


@pytest.mark.property
@settings(max_examples=150)
@given(data=st.binary(max_size=200) | files())
def test_any_file_is_read_or_refused_with_every_fault(
    data: bytes, criteria: Criteria
) -> None:
    said = faults_of(data, criteria)
    assert said is None or (said and all(said))


FILES: dict[str, bytes] = {
    "nothing": b"",
    "a byte order mark alone": b"\xef\xbb\xbf",
    "an end of line": b"\n",
    "zeros": bytes(64),
    "another encoding": "id,test,value\n1,Ω,2\n".encode("utf-16"),
    "an open quote": b'id,test,value\n"1,insulation_resistance,2\n',
    "a column twice": b"id,id,test,value\n",
    "more cells than columns": b"id,test,value\n1,contact_resistance,2,3\n",
    "a header alone": b"id,test,value\n",
}


@pytest.mark.parametrize("data", FILES.values(), ids=FILES)
def test_a_file_at_the_edge(data: bytes, criteria: Criteria) -> None:
    said = faults_of(data, criteria)
    assert said is None or (said and all(said))

"""A Parquet file is read as the same rows in CSV."""

import datetime
import io
from typing import Any

import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from models.analysis.judge_file import checked_file
from models.analysis.judge_part import JudgedPart, judge_all
from models.analysis.open_readings import open_readings
from models.criteria import load
from models.errors import InputError

CRITERIA = load()
GOOD: dict[str, list[Any]] = {
    "id": ["a", "b"],
    "test": ["insulation_resistance"] * 2,
    "value": [4.2, 3.9],
    "unit": ["GOhm"] * 2,
    "rated_kv": [15, 15],
    "temperature_c": [31.0, None],
    "test_kv": [2.5, 2.5],
}


def parquet(columns: dict[str, Any]) -> bytes:
    out = io.BytesIO()
    pq.write_table(pa.table(columns), out)
    return out.getvalue()


def judged(data: bytes) -> list[JudgedPart]:
    source = open_readings(io.BytesIO(data))
    with checked_file(source, CRITERIA, lambda _rows: None) as checked:
        return [judge_all(work) for work in checked.work()]


def faults(data: bytes) -> list[str]:
    with pytest.raises(InputError) as refused:
        judged(data)
    return [str(fault) for fault in refused.value.faults]


COLUMNS = {
    "doubles": GOOD,
    "words": GOOD | {"value": ["4.2", "3.9"]},
    "singles": GOOD | {"value": pa.array([4.2, 3.9], pa.float32())},
    "a dictionary": GOOD | {"unit": pa.array(GOOD["unit"]).dictionary_encode()},
    "large texts": GOOD | {"id": pa.array(GOOD["id"], pa.large_string())},
}


@pytest.mark.parametrize("columns", COLUMNS.values(), ids=COLUMNS)
def test_a_file_is_judged(columns: dict[str, Any]) -> None:
    [part] = judged(parquet(columns))
    assert [row.judgement.verdict for row in part.judged_rows()] == [
        "within",
        "unjudged",
    ]
    assert part.said[0].working[0].startswith("4.2 GΩ at 31 °C × 1.656 = 6.956 GΩ")


WRONG = {
    "a number that is none": (GOOD | {"value": [4.2, float("nan")]}, "row 2, column"),
    "a date": (
        GOOD | {"value": [datetime.date(2026, 1, 1)] * 2},
        "column value: holds date32[day]: text or numbers are wanted.",
    ),
    "truths": (GOOD | {"value": [True, False]}, "column value: holds bool"),
    "an unknown column": (GOOD | {"colour": ["red"] * 2}, "row 1, column colour"),
}


@pytest.mark.parametrize(("columns", "said"), WRONG.values(), ids=WRONG)
def test_what_is_wrong_has_its_place(columns: dict[str, Any], said: str) -> None:
    assert faults(parquet(columns))[0].startswith(said)


def test_a_file_torn_off_is_refused() -> None:
    said = "row 1: this is not a Parquet file that can be read."
    assert faults(parquet(GOOD)[:-20]) == [said]


def latin(texts: list[bytes]) -> Any:
    """Texts as a program writes them that does not look at their encoding."""
    column = pa.array(texts, pa.binary())
    return pa.StringArray.from_buffers(len(texts), *column.buffers()[1:])


def test_a_text_of_another_encoding_has_its_place() -> None:
    found = faults(parquet(GOOD | {"unit": latin([b"GOhm", b"\xb5Ohm"])}))
    assert found == ["row 2, column unit: the text is not UTF-8."]


def test_a_column_name_of_another_encoding_is_refused() -> None:
    data = parquet(GOOD).replace(b"test_kv", b"test_\xff\xfe")
    assert faults(data) == ["row 1: this is not a Parquet file that can be read."]

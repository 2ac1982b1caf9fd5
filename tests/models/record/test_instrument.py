"""What is beyond an instrument: its supply, its level, its range."""

from typing import Any

import pytest

from models.judging.gates import INSTRUMENT
from models.record.instrument import Able, beyond

AC = Able(supplies=("ac",), greatest={"test_kv": 100.0})
TESTER = Able(
    supplies=("dc",),
    greatest={"test_kv": 5.0, "reading": 200.0, "reading_unit": "GOhm"},
)
UNSAID = Able(supplies=None, greatest={})

CASES: dict[str, tuple[Able, dict[str, Any], float | None, str | None]] = {
    "what it does": (AC, {"supply": "ac", "test_kv": 27}, None, None),
    "its greatest level": (AC, {"supply": "ac", "test_kv": 100}, None, None),
    "dc from an ac set": (AC, {"supply": "dc", "test_kv": 27}, None, "supply"),
    "dc across a gap from an ac set": (AC, {"method": "dc"}, None, "supply"),
    "a method that is no supply": (AC, {"method": "magnetron"}, None, None),
    "25 kV from a 5 kV tester": (TESTER, {"test_kv": 25}, 9.0, "level"),
    "a level that was not typed": (TESTER, {}, 9.0, None),
    "more than it shows": (TESTER, {"test_kv": 2.5}, 300.0, "reading"),
    "its end of range": (TESTER, {"test_kv": 2.5}, 200.0, None),
    "an outcome": (TESTER, {"test_kv": 2.5}, None, None),
    "an instrument of which nothing is said": (
        UNSAID,
        {"supply": "dc", "test_kv": 400},
        1e9,
        None,
    ),
}


@pytest.mark.parametrize(
    ("able", "conditions", "reading", "wanted"), CASES.values(), ids=CASES
)
def test_beyond(
    able: Able, conditions: dict[str, Any], reading: float | None, wanted: str | None
) -> None:
    assert beyond(able, conditions, reading) == wanted
    assert wanted is None or wanted in INSTRUMENT["reasons"]

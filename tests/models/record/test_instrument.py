"""What is beyond an instrument, what is stated of it, and which cards it fits."""

from typing import Any

import pytest

from models.judging.gates import INSTRUMENT
from models.record.instrument import Range, accuracy_of, beyond, why_not
from models.record.instrument_words import accuracy_words
from models.words import say

AC = [Range(does="applies", unit="kV", supply="ac", low=0, high=100)]
BOTH = [*AC, Range(does="applies", unit="kV", supply="dc", low=0, high=70)]
TESTER = [
    Range(unit="GOhm", low=0, high=10, pct_reading=5, fixed=0.02),
    Range(unit="GOhm", low=10, high=200, pct_range=2, digits=3, resolution=0.1),
    Range(does="applies", unit="V", supply="dc", low=250, high=5000),
]

CASES: dict[str, tuple[list[Range], dict[str, Any], float | None, str | None]] = {
    "what it does": (AC, {"supply": "ac", "test_kv": 27}, None, None),
    "its greatest level": (AC, {"supply": "ac", "test_kv": 100}, None, None),
    "dc from an ac set": (AC, {"supply": "dc", "test_kv": 27}, None, "supply"),
    "dc across a gap from an ac set": (AC, {"method": "dc"}, None, "supply"),
    "a method that is no supply": (AC, {"method": "magnetron"}, None, None),
    "more dc than it has": (BOTH, {"supply": "dc", "test_kv": 80}, None, "level"),
    "as much ac": (BOTH, {"supply": "ac", "test_kv": 80}, None, None),
    "25 kV from a 5 kV tester": (TESTER, {"test_kv": 25}, 9.0, "level"),
    "less than it puts out": (TESTER, {"test_kv": 0.1}, 9.0, "level"),
    "a level that was not typed": (TESTER, {}, 9.0, None),
    "a current on a relay's base": (TESTER, {"applied_a": 9000}, None, None),
    "more than it shows": (TESTER, {"test_kv": 2.5}, 300.0, "reading"),
    "its end of range": (TESTER, {"test_kv": 2.5}, 200.0, None),
    "an outcome": (TESTER, {"test_kv": 2.5}, None, None),
    "an instrument of which nothing is said": (
        [],
        {"supply": "dc", "test_kv": 400},
        1e9,
        None,
    ),
}


@pytest.mark.parametrize(
    ("ranges", "conditions", "reading", "wanted"), CASES.values(), ids=CASES
)
def test_beyond(
    ranges: list[Range],
    conditions: dict[str, Any],
    reading: float | None,
    wanted: str | None,
) -> None:
    assert beyond(ranges, conditions, reading, "GOhm") == wanted
    assert wanted is None or wanted in INSTRUMENT["reasons"]


def test_the_accuracy_is_that_of_the_ranges_of_the_quantity() -> None:
    other = Range(unit="kV", pct_reading=1)
    lower, upper = accuracy_of([other, *TESTER], "MOhm")["ranges"]
    assert (lower["pct"], lower["fixed"], lower["high"]) == (5, 0.02, 10)
    assert (upper["pct"], upper["pct_range"], upper["digits"]) == (0, 2, 3)
    assert accuracy_of(TESTER, "s") == {}
    assert accuracy_of([Range(unit="GOhm", low=0, high=9)], "GOhm") == {}
    flat = accuracy_of([Range(unit="s", pct_reading=1, digits=2, resolution=0.5)], "s")
    assert flat == {"pct": 1, "fixed": 1.0, "unit": "s"}


def test_the_accuracy_is_that_of_the_supply() -> None:
    volts = [
        Range(unit="V", supply="ac", pct_reading=2),
        Range(unit="V", supply="dc", pct_reading=1),
    ]
    assert accuracy_of(volts, "V", "dc")["pct"] == 1


FITS: dict[str, tuple[list[Range], str, dict[str, Any], str | None]] = {
    "it fits": (TESTER, "insulation_resistance", {"test_kv": 5.0}, None),
    "another procedure": (TESTER, "relay_timing", {}, "procedure"),
    "too high a level": (TESTER, "insulation_resistance", {"test_kv": 10.0}, "level"),
    "another supply": (AC, "insulation_resistance", {"supply": "dc"}, "supply"),
    "another quantity": (
        [Range(unit="s")],
        "insulation_resistance",
        {},
        "quantity",
    ),
}


@pytest.mark.parametrize(
    ("ranges", "procedure", "conditions", "why"), FITS.values(), ids=FITS
)
def test_why_an_instrument_does_not_fit(
    ranges: list[Range], procedure: str, conditions: dict[str, Any], why: str | None
) -> None:
    said = why_not(
        ranges,
        ["insulation_resistance"],
        procedure=procedure,
        units=("GOhm", "MOhm"),
        outcomes=(),
        conditions=conditions,
    )
    assert said == (say(f"unfit.{why}") if why else None)


def test_the_accuracy_in_words() -> None:
    assert accuracy_words(TESTER) == (
        "0 to 10 G\u03a9: 5 % of reading + 0.02 G\u03a9; "
        "10 to 200 G\u03a9: 2 % of range + 3 x 0.1 G\u03a9"
    )
    assert accuracy_words([Range(unit="s", fixed=0.1)]) == "0.1 s"
    assert accuracy_words(AC) == "not given"

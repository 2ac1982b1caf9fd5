"""Accuracy as typed, and the uncertainty that follows from it."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.errors import InputError
from models.judging import (
    Accuracy,
    AccuracyRange,
    RangedAccuracy,
    accuracy_from,
    parse_accuracy,
)

READ: dict[str, tuple[str, Accuracy]] = {
    "percent and fixed": ("5% + 0.02", Accuracy(5, 0.02)),
    "without blanks": ("5%+0.02", Accuracy(5, 0.02)),
    "without a plus": ("5% 0.02", Accuracy(5, 0.02)),
    "percent alone": ("1.5 %", Accuracy(1.5, 0)),
    "fixed alone": ("0.02", Accuracy(0, 0.02)),
    "none at all": ("0%", Accuracy(0, 0)),
}


@pytest.mark.parametrize(("text", "accuracy"), READ.values(), ids=READ)
def test_it_is_read(text: str, accuracy: Accuracy) -> None:
    assert parse_accuracy(text) == accuracy


@pytest.mark.parametrize(
    "text", ["", " ", "good", "5%%", "-5%", "5% - 0.02", "5% + -1", "0.02 + 5%", "5,5%"]
)
def test_it_is_refused_with_the_form(text: str) -> None:
    with pytest.raises(InputError, match=r"5% \+ 0\.02") as caught:
        parse_accuracy(text)
    (fault,) = caught.value.faults
    assert fault.field == "accuracy"
    assert fault.message == (
        f"'{text}' is not an accuracy: write for example 5% + 0.02 (percent of "
        "reading, plus a fixed part in the unit of the value)."
    )


# JCGM 100:2008 (GUM) 4.3.7: a rectangular distribution of half-width a has the
# standard uncertainty a / sqrt(3). Its example in 4.3.7 is a thermal-expansion
# coefficient 16.52e-6 with a = 0.40e-6, for which it prints u = 0.23e-6 (the
# example's figures from memory; the division is theirs and ours alike).
def test_the_guide_s_own_example() -> None:
    expanded = Accuracy(fixed=0.40e-6).expanded(16.52e-6, "Pa")
    assert round(expanded / 2 * 1e6, 2) == 0.23


EXPANDED: dict[str, tuple[Accuracy, float, str, float]] = {
    "percent of reading": (Accuracy(5), 200, "MOhm", 10),
    "fixed": (Accuracy(fixed=2), 200, "MOhm", 2),
    "both": (Accuracy(5, 2), 200, "MOhm", 12),
    "fixed in another unit": (Accuracy(5, 0.02, "GOhm"), 200, "MOhm", 30),
    "of a negative value": (Accuracy(5), -200, "MOhm", 10),
}


@pytest.mark.parametrize(
    ("accuracy", "value", "unit", "half_width"), EXPANDED.values(), ids=EXPANDED
)
def test_u_is_twice_the_half_width_over_root_three(
    accuracy: Accuracy, value: float, unit: str, half_width: float
) -> None:
    assert accuracy.expanded(value, unit) == pytest.approx(
        2 * half_width / math.sqrt(3), rel=1e-12
    )


STATED = "0..200 MOhm: 5% + 0.02; 200..2000 MOhm: 10% + 2% range + 3 digits of 0.1"
LOWER = AccuracyRange(low=0, high=200, unit="MOhm", pct=5, fixed=0.02)
UPPER = AccuracyRange(
    low=200, high=2000, unit="MOhm", pct=10, pct_range=2, digits=3, resolution=0.1
)
RANGED: dict[str, tuple[str, tuple[AccuracyRange, ...]]] = {
    "two ranges": (STATED, (LOWER, UPPER)),
    "in any order": (";".join(reversed(STATED.split(";"))), (LOWER, UPPER)),
    "spelled otherwise": ("0 .. 200 MΩ : 5 % of reading+0.02 ;", (LOWER,)),
    "in the unit of the value": ("0..2: 1%", (AccuracyRange(low=0, high=2, pct=1),)),
    "close to the unit": (
        "-20..60°C: 0.5",
        (AccuracyRange(low=-20, high=60, unit="degC", fixed=0.5),),
    ),
    "numbers with e": (
        "1e-3..2e+3 A: 1e-2%",
        (AccuracyRange(low=1e-3, high=2e3, unit="A", pct=1e-2),),
    ),
}


@pytest.mark.parametrize(("text", "ranges"), RANGED.values(), ids=RANGED)
def test_ranges_are_read(text: str, ranges: tuple[AccuracyRange, ...]) -> None:
    assert parse_accuracy(text) == RangedAccuracy(ranges)


REFUSED_RANGES = {
    "no end": "0 MOhm: 5%",
    "no unit that is known": "0..200 furlongs: 5%",
    "the wrong way round": "200..0 MOhm: 5%",
    "nothing stated": "0..200 MOhm:",
    "twice the same": "0..200 MOhm: 5% + 3%",
    "below zero": "0..200 MOhm: -5%",
    "no resolution": "0..200 MOhm: 3 digits",
    "of two quantities": "0..200 MOhm: 5%; 0..10 kV: 1%",
}


@pytest.mark.parametrize("text", REFUSED_RANGES.values(), ids=REFUSED_RANGES)
def test_ranges_are_refused_with_the_form(text: str) -> None:
    with pytest.raises(InputError, match=r"10% \+ 2% range \+ 3 digits of 0\.1"):
        parse_accuracy(text)


# value, unit -> half-width, worked out by hand from what STATED says; None: no range
HALF_WIDTHS: dict[str, tuple[float, str, float | None]] = {
    "in the lower range": (100, "MOhm", 5.02),  # 5 % of 100 + 0.02
    "at its end the lower one": (200, "MOhm", 10.02),  # 5 % of 200 + 0.02
    "just above it": (201, "MOhm", 60.4),  # 10 % of 201 + 2 % of 2000 + 3 x 0.1
    "the same in another unit": (0.2, "GOhm", 0.01002),
    "at the last end": (2, "GOhm", 0.2403),  # 200 + 40 + 0.3 MOhm
    "beyond": (2001, "MOhm", None),
    "of a negative value": (-201, "MOhm", 60.4),
}


@pytest.mark.parametrize(
    ("value", "unit", "half_width"), HALF_WIDTHS.values(), ids=HALF_WIDTHS
)
def test_the_range_is_that_of_the_value(
    value: float, unit: str, half_width: float | None
) -> None:
    here = parse_accuracy(STATED).at(value, unit)
    if half_width is None:
        assert here is None
    else:
        assert here is not None
        wanted = 2 * half_width / math.sqrt(3)
        assert here.expanded(value, unit) == pytest.approx(wanted, rel=1e-12)


def test_of_ranges_that_overlap_the_lowest_that_holds_the_value_counts() -> None:
    ranges = parse_accuracy("0..2000 MOhm: 10%; 0..0.2 GOhm: 5%")
    assert [(a.pct if (a := ranges.at(v, "MOhm")) else None) for v in (100, 300)] == [
        5,
        10,
    ]


def test_an_accuracy_is_read_from_its_json() -> None:
    ranges = [{"low": 0, "high": 200, "unit": "MOhm", "pct": 5, "fixed": 0.02}]
    assert accuracy_from({"ranges": ranges}) == RangedAccuracy((LOWER,))
    assert accuracy_from({"pct": 5, "fixed": 2, "unit": None}) == Accuracy(5, 2)
    assert accuracy_from({}) is None


@pytest.mark.property
@given(
    pct=st.floats(min_value=0, max_value=50),
    fixed=st.floats(min_value=0, max_value=50),
    value=st.floats(min_value=0, max_value=1e6),
)
def test_u_never_shrinks_as_the_value_grows(
    pct: float, fixed: float, value: float
) -> None:
    accuracy = Accuracy(pct, fixed)
    assert accuracy.expanded(value + 1, "s") >= accuracy.expanded(value, "s")

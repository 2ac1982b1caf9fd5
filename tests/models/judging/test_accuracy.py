"""Accuracy as typed, and the uncertainty that follows from it."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.errors import InputError
from models.judging import Accuracy, parse_accuracy

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

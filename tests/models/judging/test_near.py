"""Exactly at the limit counts, whatever unit it was typed in."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.judging.near import at_least, near

NEAR: dict[str, tuple[float, float, bool]] = {
    "the same": (5000, 5000, True),
    "five gigaohms in megaohms": (5.00 * 1e3, 5000, True),
    "a sum of tenths": (0.1 + 0.2, 0.3, True),
    "half a billionth off": (1 + 5e-10, 1, True),
    "two billionths off": (1 + 2e-9, 1, False),
    "zeros": (0, 0, True),
    "zero and a trifle": (0, 1e-300, False),
    "infinity and a number": (math.inf, 1000, False),
    "infinity and itself": (math.inf, math.inf, True),
}


@pytest.mark.parametrize(("a", "b", "same"), NEAR.values(), ids=NEAR)
def test_near(a: float, b: float, same: bool) -> None:
    assert near(a, b) is same
    assert near(b, a) is same


AT_LEAST: dict[str, tuple[float, float, bool]] = {
    "above": (5001, 5000, True),
    "at": (5000, 5000, True),
    "a rounding below": (5000 * (1 - 5e-10), 5000, True),
    "below": (4999.9, 5000, False),
    "infinite": (math.inf, 5000, True),
    "short of infinity": (5000, math.inf, False),
}


@pytest.mark.parametrize(("a", "b", "met"), AT_LEAST.values(), ids=AT_LEAST)
def test_at_least(a: float, b: float, met: bool) -> None:
    assert at_least(a, b) is met


@pytest.mark.property
@given(a=st.floats(0, 1e12), b=st.floats(0, 1e12))
def test_one_of_two_numbers_is_at_least_the_other(a: float, b: float) -> None:
    assert at_least(a, b) or at_least(b, a)

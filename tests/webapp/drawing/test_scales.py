"""Scales and their ticks."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.drawing.scales import (
    Scale,
    fit_scale,
    linear_ticks,
    log_ticks,
    tick_words,
)

LINEAR = {
    "tens": (0, 80, 4, [0, 20, 40, 60, 80]),
    "fives": (0, 20, 4, [0, 5, 10, 15, 20]),
    "not from zero": (13.1, 15.2, 2, [14]),
    "small": (0, 0.004, 4, [0, 0.001, 0.002, 0.003, 0.004]),
}


@pytest.mark.parametrize(
    ("low", "high", "count", "wanted"), LINEAR.values(), ids=LINEAR
)
def test_linear_ticks(low, high, count, wanted):
    found = linear_ticks(low, high, count)
    assert set(wanted) <= {round(v, 9) for v in found} | {round(v) for v in found}


LOG = {
    "decades": (0.5, 600, 4, [1, 10, 100]),
    "every other decade": (0.5, 6e6, 4, [1, 100, 10000, 1000000]),
    "few of many decades": (2, 1e5, 2, [10, 10000]),
    "less than two decades": (0.8, 9, 4, [1, 2, 5]),
}


@pytest.mark.parametrize(("low", "high", "count", "wanted"), LOG.values(), ids=LOG)
def test_log_ticks(low, high, count, wanted):
    assert log_ticks(low, high, count) == pytest.approx(wanted)


def test_tick_words_carry_no_noise():
    assert tick_words([0.1 + 0.2, 1000.0, 0.0]) == ["0.3", "1000", "0"]


def test_tick_words_keep_what_is_small():
    assert tick_words([5e-290]) == ["5e-290"]


numbers = st.floats(allow_nan=False)
decades = st.integers(-323, 308).map(lambda exponent: float(f"1e{exponent}"))


@pytest.mark.property
@given(numbers | decades, numbers | decades, numbers | decades, st.booleans())
def test_any_numbers_make_a_scale(low, high, value, logarithmic):
    scale = fit_scale(low, high, 0.0, 200.0, logarithmic=logarithmic)
    assert 0.0 <= scale.place(value) <= 200.0
    assert scale.place(scale.low) == pytest.approx(0.0)
    assert scale.place(scale.high) == pytest.approx(200.0)
    ticks = scale.ticks(4)
    assert len(ticks) <= 50
    assert len(tick_words(ticks)) == len(ticks)


def test_an_ordinary_scale_is_left_as_it_is():
    assert fit_scale(-3.0, 7.0, 1.0, 2.0) == Scale(-3.0, 7.0, 1.0, 2.0)


positive = st.floats(min_value=1e-6, max_value=1e9)


@pytest.mark.property
@given(positive, positive, positive, st.booleans())
def test_a_place_is_on_the_scale_and_keeps_the_order(one, other, ratio, logarithmic):
    scale = Scale(1e-3, 1e3 + ratio, 0.0, 200.0, logarithmic)
    low, high = sorted((one, other))
    assert 0 <= scale.place(low) <= scale.place(high) <= 200 + 1e-9


@pytest.mark.property
@given(positive, st.floats(min_value=1.01, max_value=1e6), st.integers(2, 8))
def test_ticks_lie_on_the_scale_and_are_not_too_many(low, ratio, wanted):
    for logarithmic in (True, False):
        scale = Scale(low, low * ratio, 0.0, 1.0, logarithmic)
        ticks = scale.ticks(wanted)
        assert all(low * (1 - 1e-6) <= t <= low * ratio * (1 + 1e-6) for t in ticks)
        assert len(ticks) <= 2 * wanted + 8

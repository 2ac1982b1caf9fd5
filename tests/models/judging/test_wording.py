"""Numbers for people."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.judging.wording import amount, figure, plain, tenths

FIGURES: dict[str, tuple[float, str]] = {
    "zero": (0, "0"),
    "four digits": (1234.5678, "1235"),
    "a large number keeps its size": (123_456, "123500"),
    "trailing zeros are kept": (2.5, "2.500"),
    "below one": (0.0123456, "0.01235"),
    "rounding up to the next power": (9999.7, "10000"),
    "very small": (1.2344e-7, "1.234e-7"),
    "negative": (-4.2, "-4.200"),
    "the smallest there is": (5e-324, "4.941e-324"),
    "a quotient beyond every number": (math.inf, "∞"),
    "the same below zero": (-math.inf, "-∞"),
    # These are ties in binary too: the even digit wins.
    "an exact tie, down": (1000.5, "1000"),
    "an exact tie, up": (1001.5, "1002"),
}


@pytest.mark.parametrize(("value", "text"), FIGURES.values(), ids=FIGURES)
def test_figure(value: float, text: str) -> None:
    assert figure(value) == text


PLAIN: dict[str, tuple[float, str]] = {
    "a whole number": (27.0, "27"),
    "a decimal": (2.5, "2.5"),
    "thousandths": (0.035, "0.035"),
    "hundreds of thousands": (100_000.0, "100000"),
    "binary dust": (0.1 + 0.2, "0.3"),
    "small": (1e-7, "1e-7"),
    "zero": (0.0, "0"),
    "minus zero": (-0.0, "0"),
    "the smallest there is": (5e-324, "4.940656458e-324"),
    "a quotient beyond every number": (math.inf, "∞"),
}


@pytest.mark.parametrize(("value", "text"), PLAIN.values(), ids=PLAIN)
def test_plain(value: float, text: str) -> None:
    assert plain(value) == text


TENTHS: dict[str, tuple[float, str]] = {
    "a half upwards": (0.25, "0.3"),
    "a whole number": (3.0, "3"),
    "the smallest there is": (5e-324, "0"),
    "the largest there is": (1.7e308, plain(1.7e308)),
}


@pytest.mark.parametrize(("value", "text"), TENTHS.values(), ids=TENTHS)
def test_tenths(value: float, text: str) -> None:
    assert tenths(value) == text


AMOUNTS: dict[str, tuple[float, str, str]] = {
    "megaohms": (420, "MOhm", "420.0 MΩ"),
    "gigaohms": (5000, "MOhm", "5.000 GΩ"),
    "teraohms": (2e6, "MOhm", "2.000 TΩ"),
    "microohms": (34.2, "uOhm", "34.20 µΩ"),
    "milliohms": (1200, "uOhm", "1.200 mΩ"),
    "seconds": (0.412, "s", "0.4120 s"),
    "no unit": (1.5, "", "1.500"),
}


@pytest.mark.parametrize(("value", "unit", "text"), AMOUNTS.values(), ids=AMOUNTS)
def test_amount(value: float, unit: str, text: str) -> None:
    assert amount(value, unit) == text


def test_what_stands_beside_a_value_has_its_unit() -> None:
    assert amount(194.2, "MOhm", 2814) == "0.1942 GΩ"
    assert amount(1200, "MOhm", 812) == "1200 MΩ"


@pytest.mark.property
@given(value=st.floats(min_value=1e-20, max_value=1e20))
def test_a_figure_is_within_half_its_last_digit(value: float) -> None:
    assert float(figure(value)) == pytest.approx(value, rel=0.51e-3)


@pytest.mark.property
@given(value=st.floats(min_value=-1e20, max_value=1e20))
def test_a_plain_number_keeps_ten_digits(value: float) -> None:
    assert math.isclose(float(plain(value)), value, rel_tol=1e-9)

"""Units: what people type, and conversion with known factors."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.errors import InputError
from models.judging.quantities import (
    UNITS,
    convert,
    convert_difference,
    said_unit,
    unit_name,
)

TYPED = {
    "MOhm": "MOhm",
    "Mohm": "MOhm",
    "MΩ": "MOhm",
    "M\u2126": "MOhm",  # the ohm sign, not the Greek letter
    "M Ohm": "MOhm",
    "Mohms": "MOhm",
    "GOHM": "GOhm",
    "kΩ": "kOhm",
    "TΩ": "TOhm",
    "µΩ": "uOhm",
    "\u03bcΩ": "uOhm",  # the Greek letter, not the micro sign
    "uohm": "uOhm",
    "mΩ": "mOhm",
    "Ω": "Ohm",
    "s": "s",
    "sec": "s",
    "ms": "ms",
    "Pa": "Pa",
    "pa": "Pa",
    "mbar": "mbar",
    "torr": "Torr",
    "°C": "degC",
    "degF": "degF",
    "K": "K",
    "N·m": "Nm",
    "lb-ft": "lb-ft",
    "lbf·ft": "lb-ft",
    "µA": "uA",
    "kV": "kV",
    "psi": "psi",
    "%": "%",
    "°": "deg",
}


@pytest.mark.parametrize(("symbol", "name"), TYPED.items(), ids=TYPED)
def test_a_symbol_is_known(symbol: str, name: str) -> None:
    assert unit_name(symbol) == name


# m and M are nine powers of ten apart: a wrong case is no unit, never a guess.
@pytest.mark.parametrize(
    "symbol",
    ["", "mohmm", "gohm", "KOhm", "MS", "S", "mBar", "PSI", "v", "UOhm", "C", "M"],
)
def test_what_is_no_unit_here(symbol: str) -> None:
    assert unit_name(symbol) is None


CONVERTED: dict[str, tuple[float, str, str, float]] = {
    "gigaohm": (5.0, "GOhm", "MOhm", 5000),
    "teraohm": (0.2, "TOhm", "MOhm", 200_000),
    "kiloohm": (250, "kOhm", "MOhm", 0.25),
    "milliohm": (0.034, "mOhm", "uOhm", 34),
    "ohm": (1, "Ohm", "uOhm", 1e6),
    "millisecond": (412, "ms", "s", 0.412),
    # The SI brochure, 9th edition: 1 mbar is 100 Pa; the torr is 101 325/760 Pa.
    "millibar": (1e-4, "mbar", "Pa", 1e-2),
    "torr": (1, "Torr", "Pa", 133.322368421),
    "to itself": (42, "Pa", "Pa", 42),
    # 1 lb is 0.45359237 kg, 1 in 25.4 mm (1959); standard gravity 9.80665 m/s2.
    "pounds a square inch": (1, "psi", "kPa", 6.89475729316836),
    "pound-feet": (1, "lb-ft", "Nm", 1.3558179483314),
    "inch": (1, "in", "mm", 25.4),
    "foot": (1, "ft", "m", 0.3048),
    "kilovolt": (12.47, "kV", "V", 12470),
    "milliampere": (4, "mA", "A", 0.004),
    "bar": (1.2, "bar", "kPa", 120),
    "hour": (2, "h", "s", 7200),
    # Water boils at 212 degF and 100 degC; -40 is the same on both scales.
    "boiling water": (212, "degF", "degC", 100),
    "the same on both": (-40, "degF", "degC", -40),
    "back": (20, "degC", "degF", 68),
}


@pytest.mark.parametrize(
    ("value", "unit", "to", "wanted"), CONVERTED.values(), ids=CONVERTED
)
def test_conversion(value: float, unit: str, to: str, wanted: float) -> None:
    assert convert(value, unit, to) == pytest.approx(wanted, rel=1e-11)


def test_a_difference_knows_no_zero() -> None:
    assert convert_difference(9, "degF", "degC") == pytest.approx(5)
    with pytest.raises(InputError, match="K is not a temperature"):
        convert(1, "K", "degC")


def test_two_quantities_do_not_convert() -> None:
    with pytest.raises(InputError, match="MΩ is not a time"):
        convert(1, "MOhm", "s")


def test_a_unit_is_said_as_people_write_it() -> None:
    assert [said_unit(u) for u in ("MOhm", "uOhm", "s", "Torr", None)] == [
        "MΩ",
        "µΩ",
        "s",
        "Torr",
        "",
    ]


pairs = st.sampled_from(
    [(a, b) for a, b in product(UNITS, UNITS) if UNITS[a].quantity == UNITS[b].quantity]
)


@pytest.mark.property
@given(value=st.floats(min_value=1e-12, max_value=1e12), pair=pairs)
def test_there_and_back_is_where_it_was(value: float, pair: tuple[str, str]) -> None:
    unit, to = pair
    shifted = 1e-12 if UNITS[unit].zero or UNITS[to].zero else 0.0  # 32 takes digits
    assert convert(convert(value, unit, to), to, unit) == pytest.approx(
        value, rel=1e-12, abs=100 * shifted
    )


@pytest.mark.property
@given(unit=st.sampled_from(sorted(UNITS)))
def test_our_own_names_and_signs_are_understood(unit: str) -> None:
    assert unit_name(unit) == unit
    said = said_unit(unit)  # nothing for what a meter shows: its reference has the unit
    assert unit_name(said or unit) == unit

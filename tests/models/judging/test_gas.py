"""Gas along a line of constant density: laws, and what is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.criteria import load
from models.criteria.gas import sf6_cites, sf6_equation
from models.errors import InputError
from models.judging.gas import COLDEST_C, HOTTEST_C, carry_pressure

EQUATION = sf6_equation(load())
TEMPERATURES = st.floats(COLDEST_C, HOTTEST_C)
FILLS = st.floats(100, 220)  # kPa absolute; a gas at every one of these temperatures


@given(FILLS, TEMPERATURES, TEMPERATURES)
def test_there_and_back_is_the_same_pressure(
    kpa: float, at_c: float, to_c: float
) -> None:
    there = carry_pressure(EQUATION, kpa, at_c, to_c).carried_kpa
    back = carry_pressure(EQUATION, there, to_c, at_c).carried_kpa
    assert back == pytest.approx(kpa, rel=1e-12)


@given(FILLS, TEMPERATURES, TEMPERATURES)
def test_a_warmer_tank_has_the_higher_pressure(
    kpa: float, at_c: float, to_c: float
) -> None:
    carried = carry_pressure(EQUATION, kpa, at_c, to_c).carried_kpa
    assert (carried > kpa) == (to_c > at_c) or abs(to_c - at_c) < 1e-9


def test_a_thin_gas_is_an_ideal_one() -> None:
    carried = carry_pressure(EQUATION, 0.1, 20, -20)
    assert carried.carried_kpa == pytest.approx(0.1 * 253.15 / 293.15, rel=1e-5)


@pytest.mark.parametrize(
    ("kpa", "at_c", "to_c", "field", "words"),
    [
        (140, -31, 20, "temperature_c", "-31 °C is outside"),
        (140, 20, 61, "to_c", "61 °C is outside"),
        (0, 20, 0, "pressure", "above zero"),
        (-5, 20, 0, "pressure", "above zero"),
        (float("nan"), 20, 0, "pressure", "above zero"),
        (800, -20, 20, "pressure", "turn liquid at 689.4 kPa"),
        (700, 20, -30, "pressure", "turn liquid at 492.4 kPa"),
        (900, 40, 20, "pressure", "denser than 50 kg/m³"),
    ],
)
def test_what_is_no_such_gas_is_refused(
    kpa: float, at_c: float, to_c: float, field: str, words: str
) -> None:
    with pytest.raises(InputError) as caught:
        carry_pressure(EQUATION, kpa, at_c, to_c)
    (fault,) = caught.value.faults
    assert fault.field == field
    assert words in fault.message


def test_the_working_can_be_followed() -> None:
    """Its numbers, put into the equation by hand."""
    carried = carry_pressure(EQUATION, 140, 20, -10)
    assert (
        "56.927 × 8.53250 × 263.15 × (1 + 0.02126) − 74.44 × 8.53250²"
        in (carried.working[1])
    )
    pascal = 56.927 * 8.5325 * 263.15 * (1 + 0.02126) - 74.44 * 8.5325**2
    assert f"{pascal / 1e3:.1f} kPa" == "125.1 kPa"
    assert "= 125.1 kPa" in carried.working[1]


def test_every_coefficient_is_cited() -> None:
    assert [cite["row"] for cite in sf6_cites(load())] == [
        "R, true gas constant over molar mass",
        "A0",
        "a",
        "B0",
        "b",
    ]

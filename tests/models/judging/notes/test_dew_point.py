"""The dew point, and the distance of the insulation from it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.judging import Criteria
from models.judging.notes import dew_point
from tests.models.judging.notes.noted import said

GOOD = {"test_kv": 2.5}

# Air degC, relative humidity %, dew point degC: psychrometric chart at sea level, as
# common tables print it to whole degrees (from memory); at 100 % the air's own.
CHART = [
    (20.0, 50.0, 9.3),
    (25.0, 60.0, 16.7),
    (30.0, 80.0, 26.2),
    (10.0, 70.0, 4.8),
    (0.0, 100.0, 0.0),
    (35.0, 100.0, 35.0),
    (20.0, 20.0, -3.6),
]


@pytest.mark.parametrize(("air_c", "humidity_pct", "wanted"), CHART)
def test_dew_points_of_the_chart(
    criteria: Criteria, air_c: float, humidity_pct: float, wanted: float
) -> None:
    note = dew_point.make(criteria).note
    assert dew_point.dew_point_c(note, air_c, humidity_pct) == pytest.approx(
        wanted, abs=0.1
    )


@pytest.mark.property
@given(st.floats(-45.0, 60.0), st.floats(0.01, 100.0))
def test_the_dew_point_is_not_above_the_air(air_c: float, humidity_pct: float) -> None:
    note = {"a": 17.62, "b_c": 243.12}
    assert dew_point.dew_point_c(note, air_c, humidity_pct) <= air_c + 1e-9


@pytest.mark.parametrize("humidity_pct", [5e-324, 1e-322, 1e-300])
def test_the_driest_air_that_can_be_typed_has_a_dew_point(
    criteria: Criteria, humidity_pct: float
) -> None:
    note = dew_point.make(criteria).note
    assert -273.15 < dew_point.dew_point_c(note, 20.0, humidity_pct) < -200


def test_the_working_shows_each_step(criteria: Criteria) -> None:
    assert said(
        dew_point.make(criteria),
        temperature_c=20.0,
        humidity_pct=78.0,
        air_temperature_c=22.5,
        **GOOD,
    ) == [
        "Dew point: g = ln(78 / 100) + 17.62 × 22.5 / (243.12 + 22.5) = 1.244; 243.12 "
        "× 1.244 / (17.62 − 1.244) = 18.5 °C (Magnus formula).",
        "The insulation at 20 °C is 1.5 °C above the dew point, less than 3 °C: "
        "moisture may settle on it. Warm or dry the gear before a bad result is held "
        "against the insulation.",
    ]


# Conditions, what the last sentence has.
CASES: dict[str, tuple[dict[str, float], str]] = {
    "far above": (
        {"temperature_c": 31.0, "humidity_pct": 50.0, "air_temperature_c": 31.0},
        "The insulation at 31 °C is 11.6 °C above the dew point.",
    ),
    "colder than the dew point": (
        {"temperature_c": 12.0, "humidity_pct": 80.0, "air_temperature_c": 25.0},
        "not above the dew point: water settles on it. Do not test",
    ),
    "in saturated air": (
        {"temperature_c": 12.0, "humidity_pct": 100.0},
        "not above the dew point",
    ),
    "one temperature for both": (
        {"temperature_c": 12.0, "humidity_pct": 60.0},
        "(air and insulation are taken to be equally warm) is 7.5 °C above",
    ),
    "humidity of nothing": (
        {"temperature_c": 12.0, "humidity_pct": 0.0},
        "a relative humidity of 0 % cannot be",
    ),
    "humidity above all": (
        {"temperature_c": 12.0, "humidity_pct": 101.0},
        "a relative humidity of 101 % cannot be",
    ),
    "air too hot for the formula": (
        {"temperature_c": 61.0, "humidity_pct": 30.0},
        "the formula holds from -45 to 60 °C, and the air has 61 °C",
    ),
    "only the air is known": (
        {"air_temperature_c": 20.0, "humidity_pct": 50.0},
        "at 20 °C (air and insulation are taken to be equally warm) is 10.7 °C above",
    ),
}


@pytest.mark.parametrize(("conditions", "wanted"), CASES.values(), ids=CASES)
def test_what_is_said(
    criteria: Criteria, conditions: dict[str, float], wanted: str
) -> None:
    lines = said(dew_point.make(criteria), **GOOD, **conditions)
    assert wanted in lines[-1]


@pytest.mark.parametrize("known", [{}, {"humidity_pct": 50.0}, {"temperature_c": 9.0}])
def test_nothing_is_said_of_what_is_not_known(
    criteria: Criteria, known: dict[str, float]
) -> None:
    assert said(dew_point.make(criteria), **GOOD, **known) == []

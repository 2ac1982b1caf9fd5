"""The probability that a limit is met."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.judging import Accuracy
from models.judging.notes import conformity
from models.procedures import Subject
from tests.models.judging.notes.noted import said

ROOT3 = math.sqrt(3.0)

# JCGM 106:2012, 7.4 as a public summary prints its numbers (66 %), and a lower limit
# of 5 GOhm with an instrument of 5 % + 3 digits, worked out by hand.
NORMAL: dict[str, tuple[float, float, float | None, float | None, float]] = {
    "two limits, the guide's own": (13.6, 1.8, 12.5, 16.3, 0.6626),
    "a minimum, well above": (5.60, 0.310 / ROOT3, 5.0, None, 0.9996),
    "a minimum, just above": (5.33, 0.2965 / ROOT3, 5.0, None, 0.9731),
    "a minimum, nearer": (5.20, 0.290 / ROOT3, 5.0, None, 0.8839),
    "a minimum, below": (4.80, 0.270 / ROOT3, 5.0, None, 0.0997),
    "a minimum, far below": (4.40, 0.250 / ROOT3, 5.0, None, 0.0000),
    "at the limit": (5.0, 0.2, 5.0, None, 0.5),
    "a maximum": (1.0, 0.5, None, 1.5, 0.8413),
}


@pytest.mark.parametrize(
    ("value", "u", "low", "high", "wanted"), NORMAL.values(), ids=NORMAL
)
def test_normal(
    value: float, u: float, low: float | None, high: float | None, wanted: float
) -> None:
    assert conformity.normal(value, u, low, high) == pytest.approx(wanted, abs=6e-5)


RECTANGULAR: dict[str, tuple[float, float, float | None, float | None, float]] = {
    "all above": (5.33, 0.3, 5.0, None, 1.0),
    "the last of it at the limit": (5.5, 0.5, 5.0, None, 1.0),
    "half": (5.0, 0.3, 5.0, None, 0.5),
    "nine tenths": (5.2, 0.25, 5.0, None, 0.9),
    "none": (4.6, 0.3, 5.0, None, 0.0),
    "below a maximum": (1.0, 0.5, None, 1.25, 0.75),
    "wider than both limits": (5.0, 2.0, 4.0, 6.0, 0.5),
    "between both": (5.0, 0.5, 4.0, 6.0, 1.0),
}


@pytest.mark.parametrize(
    ("value", "a", "low", "high", "wanted"), RECTANGULAR.values(), ids=RECTANGULAR
)
def test_rectangular(
    value: float, a: float, low: float | None, high: float | None, wanted: float
) -> None:
    assert conformity.rectangular(value, a, low, high) == pytest.approx(wanted)


@pytest.mark.property
@given(
    value=st.floats(0.0, 1e6),
    width=st.floats(1e-6, 1e6),
    low=st.none() | st.floats(0.0, 1e6),
    high=st.none() | st.floats(0.0, 1e6),
)
def test_a_probability_is_one(
    value: float, width: float, low: float | None, high: float | None
) -> None:
    for how in (conformity.normal, conformity.rectangular):
        assert 0.0 <= how(value, width, low, high) <= 1.0


@pytest.mark.property
@given(
    value=st.floats(-50.0, 50.0), u=st.floats(0.1, 10.0), limit=st.floats(-50.0, 50.0)
)
def test_a_minimum_and_a_maximum_at_one_place_share_all(
    value: float, u: float, limit: float
) -> None:
    for how in (conformity.normal, conformity.rectangular):
        together = how(value, u, limit, None) + how(value, u, None, limit)
        assert math.isclose(together, 1.0, abs_tol=1e-12)


HALF_PCT = Accuracy(pct=5.0, fixed=0.03)
GOOD = {"temperature_c": 20.0, "test_kv": 2.5}


def test_the_working_shows_each_step() -> None:
    (line,) = said(conformity.make(), "5.33", accuracy=HALF_PCT, **GOOD)
    assert line == (
        "Probability that the minimum is met (JCGM 106:2012, clause 7): u = U / 2 = "
        "0.1712 GΩ, (5.330 − 5.000) / 0.1712 = 1.93, Φ(1.93): 97.3 % if normal; of "
        "5.330 ± 0.2965 GΩ (u × √3) 100 % if rectangular."
    )


def test_two_limits_are_added_up() -> None:
    relay = Subject(curve="ieee_very_inverse", pickup_a=480.0, time_dial=2.0)
    (line,) = said(
        conformity.make(),
        "6.1",
        "relay_timing",
        relay,
        Accuracy(pct=1.0, fixed=0.03),
        "s",
        applied_a=1440.0,
    )
    assert "the earliest and the latest are met" in line
    assert (
        "(6.100 − 5.590) / 0.05254 = 9.70, (6.179 − 6.100) / 0.05254 = 1.50, "
        "Φ(9.70) + Φ(1.50) − 1: 93.3 % if normal; of 6.100 ± 0.09100 s (u × √3) "
        "93.3 % if rectangular."
    ) in line


def test_certainty_is_said_of_the_rectangle_only() -> None:
    (line,) = said(conformity.make(), "50", accuracy=HALF_PCT, **GOOD)
    assert "more than 99.9 % if normal" in line
    assert "100 % if rectangular" in line
    (line,) = said(conformity.make(), "1", accuracy=HALF_PCT, **GOOD)
    assert "less than 0.1 % if normal" in line
    assert " 0 % if rectangular" in line


SILENT: dict[str, tuple[str, Accuracy | None, dict[str, float]]] = {
    "no accuracy": ("5.33", None, GOOD),
    "an accuracy of nothing": ("5.33", Accuracy(), GOOD),
    "an accuracy next to nothing": ("5.33", Accuracy(fixed=5e-324), GOOD),
    "an accuracy of a billionth": ("5.33", Accuracy(pct=1e-8), GOOD),
    "over range": (">5.33", HALF_PCT, GOOD),
    "under range": ("<5.33", HALF_PCT, GOOD),
    "not compared": ("5.33", HALF_PCT, {"temperature_c": 20.0, "test_kv": 1.0}),
}


@pytest.mark.parametrize(
    ("text", "accuracy", "conditions"), SILENT.values(), ids=SILENT
)
def test_nothing_is_said_without_an_exact_reading_that_has_u_and_a_limit(
    text: str, accuracy: Accuracy | None, conditions: dict[str, float]
) -> None:
    assert said(conformity.make(), text, accuracy=accuracy, **conditions) == []

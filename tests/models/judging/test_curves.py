"""Operating times: the form of the equation. Its numbers: tests/outside."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.judging.curves import equation, operating_time, sensitivity

IEC = {"form": "inverse", "a": 0.14, "b": 0.0, "p": 0.02}
IEEE = {"form": "inverse", "a": 28.2, "b": 0.1217, "p": 2.0}
DEFINITE = {"form": "definite", "a": 0.0, "b": 0.0, "p": 0.0}

TIMES: dict[str, tuple[dict[str, object], float, float, float]] = {
    # IEC 60255-151 by hand: 0.14 / (2^0.02 - 1) = 10.0290
    "IEC at dial 1": (IEC, 1.0, 2.0, 10.0290),
    "IEC at a tenth": (IEC, 0.1, 2.0, 1.00290),
    # IEEE C37.112 by hand: 28.2 / (3^2 - 1) + 0.1217 = 3.6467
    "IEEE at dial 1": (IEEE, 1.0, 3.0, 3.6467),
    "IEEE at dial 5": (IEEE, 5.0, 3.0, 18.2335),
    "definite, whatever the multiple": (DEFINITE, 0.4, 7.0, 0.4),
    # 28.2 / (M^2 - 1) is nothing beside 0.1217, and M^2 more than a float holds
    "IEEE, beyond all currents": (IEEE, 1.0, 1e200, 0.1217),
    "at pickup": (IEC, 1.0, 1.0, math.inf),
    "below pickup": (IEEE, 1.0, 0.9, math.inf),
    "definite, at pickup": (DEFINITE, 0.4, 1.0, math.inf),
}


@pytest.mark.parametrize(
    ("curve", "dial", "multiple", "seconds"), TIMES.values(), ids=TIMES
)
def test_time(
    curve: dict[str, object], dial: float, multiple: float, seconds: float
) -> None:
    assert operating_time(curve, dial, multiple) == pytest.approx(seconds, rel=1e-5)


def test_beyond_all_currents_the_pickup_no_longer_moves_the_time() -> None:
    assert sensitivity(IEEE, 1e60) == pytest.approx(0.0, abs=1e-100)
    assert sensitivity(IEEE, 1e200) == 0.0


EQUATIONS: dict[str, tuple[dict[str, object], float, str]] = {
    "IEC": (IEC, 0.1, "0.1 × 0.14 / (2.000^0.02 − 1)"),
    "IEEE": (IEEE, 5, "5 × (28.2 / (2.000^2 − 1) + 0.1217)"),
    "definite": (DEFINITE, 0.4, "0.4"),
}


@pytest.mark.parametrize(("curve", "dial", "text"), EQUATIONS.values(), ids=EQUATIONS)
def test_the_equation_is_said_with_its_numbers(
    curve: dict[str, object], dial: float, text: str
) -> None:
    assert equation(curve, dial, "2.000") == text


curves = st.sampled_from([IEC, IEEE])
multiples = st.floats(min_value=1.01, max_value=100)


@pytest.mark.property
@given(curve=curves, a=multiples, b=multiples)
def test_more_current_never_takes_longer(
    curve: dict[str, object], a: float, b: float
) -> None:
    slow, fast = (operating_time(curve, 1, m) for m in sorted((a, b)))
    assert slow >= fast * (1 - 1e-12)


@pytest.mark.property
@given(curve=curves, multiple=multiples, dial=st.floats(0.01, 15))
def test_time_is_proportional_to_the_dial(
    curve: dict[str, object], multiple: float, dial: float
) -> None:
    assert operating_time(curve, dial, multiple) == pytest.approx(
        dial * operating_time(curve, 1, multiple), rel=1e-12
    )


SHAPES = {
    "IEC SI": {"form": "inverse", "a": 0.14, "b": 0.0, "p": 0.02},
    "IEC VI": {"form": "inverse", "a": 13.5, "b": 0.0, "p": 1.0},
    "IEC EI": {"form": "inverse", "a": 80.0, "b": 0.0, "p": 2.0},
    "IEEE MI": {"form": "inverse", "a": 0.0515, "b": 0.114, "p": 0.02},
    "IEEE VI": {"form": "inverse", "a": 19.61, "b": 0.491, "p": 2.0},
    "IEEE EI": {"form": "inverse", "a": 28.2, "b": 0.1217, "p": 2.0},
}
# Percent of time for each percent of pickup, derived and worked out apart from
# this program, two decimals as written down there.
SENSITIVITIES = {
    1.1: (10.50, 11.00, 11.52, 10.46, 11.46, 11.51),
    1.5: (2.48, 3.00, 3.60, 2.43, 3.49, 3.58),
    2.0: (1.45, 2.00, 2.67, 1.41, 2.48, 2.63),
    5.0: (0.63, 1.25, 2.08, 0.59, 1.30, 1.89),
    10.0: (0.44, 1.11, 2.02, 0.40, 0.58, 1.42),
    20.0: (0.34, 1.05, 2.01, 0.30, 0.18, 0.74),
}


@pytest.mark.parametrize(("multiple", "printed"), SENSITIVITIES.items())
def test_how_much_time_a_percent_of_pickup_is(
    multiple: float, printed: tuple[float, ...]
) -> None:
    for (name, shape), said in zip(SHAPES.items(), printed, strict=True):
        assert sensitivity(shape, multiple) == pytest.approx(said, abs=0.006), name


def test_a_definite_time_does_not_depend_on_the_pickup() -> None:
    assert sensitivity(DEFINITE, 2.0) == 0.0


@pytest.mark.property
@given(curve=st.sampled_from(list(SHAPES.values())), multiple=st.floats(1.05, 30.0))
def test_the_sensitivity_is_the_slope_of_the_curve(
    curve: dict[str, object], multiple: float
) -> None:
    step = 1e-6
    up, down = (
        math.log(operating_time(curve, 1.0, multiple * (1 + sign * step)))
        for sign in (1, -1)
    )
    assert sensitivity(curve, multiple) == pytest.approx(
        (down - up) / (2 * step), rel=1e-4
    )

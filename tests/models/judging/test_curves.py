"""Operating times: the form of the equation. Its numbers: tests/outside."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.judging.curves import equation, operating_time

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

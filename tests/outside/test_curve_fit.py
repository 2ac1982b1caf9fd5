"""The fit of pickup and dial against scipy's, on the same timings."""

from typing import Any

import pytest

from models.judging import Criteria
from models.judging.curve_fit import (
    STUDENT,
    STUDENT_BEYOND,
    CurveFit,
    Timing,
    fit_curve,
)
from tests.outside.oracles import ask


@pytest.fixture(scope="module")
def answers() -> dict[str, Any]:
    found: dict[str, Any] = ask("oracle_fit.py")
    return found


@pytest.mark.slow
def test_pickup_and_dial_and_their_spread_are_those_of_curve_fit(
    criteria: Criteria, answers: dict[str, Any]
) -> None:
    assert len(answers["fits"]) == 80
    for case in answers["fits"]:
        curve = criteria.table("relay_curves").find(
            lambda row, wanted=case["curve"]: row["curve"] == wanted
        )
        assert curve is not None
        ours = fit_curve(curve, [Timing(*pair) for pair in case["timings"]])
        assert isinstance(ours, CurveFit)
        for name in ("pickup", "dial"):
            assert getattr(ours, name) == pytest.approx(case[name], rel=1e-6), case
        for name in ("pickup_u", "dial_u"):
            assert getattr(ours, name) == pytest.approx(case[name], rel=1e-3), case


@pytest.mark.slow
def test_student_s_factors_are_those_of_scipy(answers: dict[str, Any]) -> None:
    """Printed with two decimals in JCGM 100:2008, Table G.2."""
    ours = (*STUDENT, STUDENT_BEYOND)
    assert ours == pytest.approx(answers["student"], abs=0.0051)

"""The line through residual pressures and the range of its time, against scipy."""

from datetime import date, timedelta
from typing import Any

import pytest

from models.analysis.pressure_trend import Pressure, fit, pressure_trend
from models.analysis.student import coverage_factor
from tests.outside.oracles import ask

BEGIN = date(2020, 1, 1)


@pytest.fixture(scope="module")
def answers() -> Any:
    return ask("oracle_pressure.py")


@pytest.mark.slow
def test_student_s_t(answers: Any) -> None:
    assert len(answers["factors"]) == 5 * 30
    for level, freedom, t in answers["factors"]:
        assert coverage_factor(level, freedom) == pytest.approx(t, rel=1e-9)


@pytest.mark.slow
def test_slope_its_uncertainty_and_when_the_limit_is_reached(answers: Any) -> None:
    assert len(answers["lines"]) == 3
    for name, wanted in answers["lines"].items():
        rounds = zip(wanted["days"], wanted["pressures"], strict=True)
        seen = [
            Pressure(day=BEGIN + timedelta(days=days), pa=pa) for days, pa in rounds
        ]
        line = fit(seen)
        assert line.slope == pytest.approx(wanted["slope"], rel=1e-9), name
        assert line.slope_u == pytest.approx(wanted["stderr"], rel=1e-6), name
        left = pressure_trend(seen, limit_pa=1e-2, floor_pa=1e-4).left
        assert left is not None
        ours = [left.earliest, left.about, left.latest]
        assert ours == pytest.approx(wanted["reached"], rel=1e-6), name

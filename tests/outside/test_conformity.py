"""The probability of conformity against scipy.stats."""

import math
from typing import Any

import pytest

from models.judging.notes import conformity
from tests.outside import oracles


@pytest.fixture(scope="module")
def scipy_says() -> dict[str, Any]:
    said: dict[str, Any] = oracles.ask("oracle_conformity.py")
    return said


def test_both_distributions_agree_with_scipy(scipy_says: dict[str, Any]) -> None:
    rows = scipy_says["probabilities"]
    assert len(rows) == 2000
    for value, u, low, high, normal, rectangular in rows:
        a = u * math.sqrt(3.0)
        assert conformity.normal(value, u, low, high) == pytest.approx(
            normal, abs=1e-12
        )
        assert conformity.rectangular(value, a, low, high) == pytest.approx(
            rectangular, abs=1e-9
        )


def test_the_error_function_agrees_with_scipy(scipy_says: dict[str, Any]) -> None:
    for x, wanted in scipy_says["erfc"]:
        assert math.erfc(x) == pytest.approx(wanted, rel=1e-13)

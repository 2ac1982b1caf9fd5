"""Ground resistance by fall of potential, against the field of a hemisphere."""

import math

import pytest

from models.judging import Criteria, Judgement, Reading
from models.procedures import Subject, compile_rule, judge

SHARES = (0.2, 0.4, 0.52, 0.618034, 0.62, 0.72, 0.8)
TRUE = 100 / (2 * math.pi)  # ohm: 100 ohm metre, a hemisphere of 1 m


def shown(probe: float, at: float) -> float:
    """Return what stands at *at* m: uniform soil, design reference 6.3."""
    return TRUE * (1 - 1 / probe - 1 / at + 1 / (probe - at))


def judged(
    criteria: Criteria, probe: float, shares: tuple[float, ...], text: str = "15.915"
) -> Judgement:
    steps = [probe * share for share in shares]
    row = " ".join(f"{at:.6g}:{shown(probe, at):.6g}" for at in steps)
    rule = compile_rule("ground_resistance", Subject(), criteria)
    conditions = {"ground_method": "fall", "probe_m": probe, "fall": row}
    reading = Reading(key="a", text=text, unit="Ohm", conditions=conditions)
    return judge([(rule, reading)])[0]


def test_the_true_value_stands_at_61_8_percent(criteria: Criteria) -> None:
    """15.915 ohm at 0.618034 of any distance; 50 m: spread 4.04 %, above 5 ohm."""
    assert shown(50, 0.6180339887 * 50) == pytest.approx(TRUE, rel=1e-9)
    found = judged(criteria, 50, SHARES)
    assert found.verdict == "outside"
    assert "at 30.90 m, 61.8 % of the distance of the current probe" in found.working[1]
    assert "15.92 Ω" in found.working[1]
    assert "= 4.03" in found.working[0] or "= 4.04" in found.working[0]


def test_a_probe_too_near_proves_nothing(criteria: Criteria) -> None:
    """20 m: 10.05 % of the mean, above the 10 % that are wanted at most."""
    found = judged(criteria, 20, SHARES)
    assert found.verdict == "unjudged"
    assert "10.05" in found.reason


def test_the_62_percent_rule_joins_its_neighbours(criteria: Criteria) -> None:
    """Without a reading at 61.8 %: 52 and 62 % joined straight, within 0.1 %."""
    found = judged(criteria, 50, (0.2, 0.52, 0.62, 0.72))
    assert found.verdict == "outside"
    assert "15.91 Ω" in found.working[1] or "15.92 Ω" in found.working[1]


def test_the_value_entered_is_that_of_the_curve(criteria: Criteria) -> None:
    found = judged(criteria, 50, SHARES, text="14.4")
    assert found.verdict == "unjudged"
    assert "difference of the value entered" in found.reason

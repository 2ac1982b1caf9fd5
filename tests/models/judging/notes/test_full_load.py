"""The rise at full load: heat in a joint is current squared times resistance."""

import pytest

from models.judging import Criteria, Reading
from models.procedures import Subject, compile_rule, judge


def notes(criteria: Criteria, text: str, load_pct: float | None) -> list[str]:
    rule = compile_rule("thermography", Subject(), criteria)
    conditions = {"compare_to": "similar"}
    if load_pct is not None:
        conditions |= {"load_pct": load_pct}
    reading = Reading(key="1", text=text, unit="K", conditions=conditions)
    (judged,) = judge([(rule, reading)])
    return [line for line in judged.working if line.startswith("At full load")]


def test_half_the_load_is_a_quarter_of_the_heat(criteria: Criteria) -> None:
    (line,) = notes(criteria, "8.0", 50.0)
    assert "8.000 K × (100 / 50)² = 32.00 K" in line
    assert "Common practice" in line


SILENT = {
    "at full load": ("8.0", 100.0),
    "above it": ("8.0", 120.0),
    "under too low a load": ("8.0", 39.9),
    "without the load": ("8.0", None),
    "of a bound": (">8.0", 50.0),
}


@pytest.mark.parametrize(("text", "load_pct"), SILENT.values(), ids=SILENT)
def test_nothing_is_said(criteria: Criteria, text: str, load_pct: float | None) -> None:
    assert notes(criteria, text, load_pct) == []

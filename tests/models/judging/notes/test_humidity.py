"""The note on high humidity."""

import pytest

from models.judging import judge
from tests.models.judging.rules_made_up import low, read, rule

NOTE = {"say": "humidity", "high_pct": 75.0}

CASES: dict[str, tuple[dict[str, float], bool]] = {
    "not known": ({}, False),
    "dry": ({"humidity_pct": 40.0}, False),
    "just below": ({"humidity_pct": 74.9}, False),
    "at the figure": ({"humidity_pct": 75.0}, True),
    "above": ({"humidity_pct": 93.0}, True),
}


@pytest.mark.parametrize(("conditions", "said"), CASES.values(), ids=CASES)
def test_humid_air_is_said(conditions: dict[str, float], said: bool) -> None:
    (judged,) = judge([(rule(low(1), notes=[NOTE]), read("2", **conditions))])
    lines = [line for line in judged.working if line.startswith("Relative humidity")]
    assert len(lines) == said
    if said:
        assert f"{conditions['humidity_pct']:g} %, at or above 75 %" in lines[0]

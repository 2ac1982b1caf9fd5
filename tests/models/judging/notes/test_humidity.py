"""The note on high humidity."""

import pytest

from models.judging import Criteria
from models.judging.notes import humidity
from tests.models.judging.notes.noted import said

CASES: dict[str, tuple[dict[str, float], bool]] = {
    "not known": ({}, False),
    "dry": ({"humidity_pct": 40.0}, False),
    "just below": ({"humidity_pct": 74.9}, False),
    "at the figure": ({"humidity_pct": 75.0}, True),
    "above": ({"humidity_pct": 93.0}, True),
}


@pytest.mark.parametrize(("conditions", "wanted"), CASES.values(), ids=CASES)
def test_humid_air_is_said(
    criteria: Criteria, conditions: dict[str, float], wanted: bool
) -> None:
    lines = said(humidity.make(criteria), **conditions)
    assert len(lines) == wanted
    if wanted:
        assert f"{conditions['humidity_pct']:g} % is not below 75 %" in lines[0]

"""Angles drawn on a circle."""

import pytest

from webapp.drawing import OnCard, dial
from webapp.drawing.shapes import Line, Polyline

RULE = {"unit": "deg", "bounds": [{"kind": "near_angle", "expected": 0.1}]}


def read(value: float | None, low: float, high: float) -> OnCard:
    return OnCard(
        label="phase A",
        conditions={},
        verdict="within",
        value=value,
        low=low,
        high=high,
        exact=True,
    )


def test_359_9_lies_beside_0_1() -> None:
    drawn = dial(RULE, [read(359.9, -1.9, 2.1)])
    assert drawn is not None
    (needle,) = [one for one in drawn.items if getattr(one, "style", "") == "curve"]
    (sector,) = [one for one in drawn.items if getattr(one, "style", "") == "band"]
    assert isinstance(needle, Line)
    assert isinstance(sector, Polyline)
    _, *arc = sector.points
    lowest, highest = max(y for _, y in arc), min(y for _, y in arc)
    assert highest < needle.y2 < lowest
    assert needle.x2 == pytest.approx(max(x for x, _ in arc), abs=0.2)
    assert "phase A: 359.9°, -1.900° to 2.100° wanted, within" in drawn.description


def test_90_points_upwards() -> None:
    drawn = dial(RULE, [read(90.0, 88.0, 92.0)])
    assert drawn is not None
    (needle,) = [one for one in drawn.items if getattr(one, "style", "") == "curve"]
    assert isinstance(needle, Line)
    assert needle.x2 == pytest.approx(needle.x1)
    assert needle.y2 < needle.y1


def test_without_a_reading_or_such_a_bound_there_is_none() -> None:
    assert dial(RULE, []) is None
    assert dial(RULE, [read(None, 0, 1)]) is None
    assert dial({"unit": "A", "bounds": [{"kind": "near"}]}, [read(1, 0, 1)]) is None

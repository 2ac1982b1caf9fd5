"""A characteristic drawn: its readings lie where the lines say."""

from typing import Any

import pytest

from webapp.drawing import OnCard, characteristic, svg
from webapp.drawing.shapes import Polyline

# The dual slope of the reference, 6.4, in amperes of tap 4.9: corners in per unit.
LINE = [[0, 1.47], [1.2, 1.47], [3, 3.675], [8, 18.375]]
RULE: dict[str, Any] = {
    "unit": "A",
    "bounds": [
        {"kind": "expected", "met": ["no_trip"]},
        {
            "kind": "near",
            "pct": "5",
            "expected": {"on": "restraint_pu", "label": "restraint", "points": LINE},
        },
    ],
}


def read(label: str, at: float | str, value: float | None, **more: Any) -> OnCard:
    said = {"conditions": {"restraint_pu": at}, "verdict": "within", "exact": True}
    return OnCard(label=label, value=value, low=None, high=None, **{**said, **more})


def test_a_reading_lies_on_the_line() -> None:
    drawn = characteristic(RULE, [read("slope 1", 3, 3.675)])
    assert drawn is not None
    (line,) = [one for one in drawn.items if getattr(one, "style", "") == "curve"]
    (mark,) = [one for one in drawn.items if getattr(one, "style", "") == "within-mark"]
    assert isinstance(line, Polyline)
    assert isinstance(mark, Polyline)
    xs, ys = zip(*mark.points, strict=True)
    corner = line.points[2]
    assert (sum(xs) / 4, sum(ys) / 4) == pytest.approx(corner)
    assert "slope 1: 3.675 A, within" in drawn.description
    assert svg(drawn).count("<polygon") + svg(drawn).count("<polyline") >= 3


def test_an_outcome_or_a_bound_has_no_place() -> None:
    drawn = characteristic(
        RULE,
        [
            read("through fault", 8, None),
            read("over", "3", 3.6, exact=False),
            read("slope 2", "8", 18.4),
        ],
    )
    assert drawn is not None
    marks = [o for o in drawn.items if getattr(o, "style", "").endswith("-mark")]
    assert len(marks) == 1


def test_another_rule_has_none() -> None:
    near = {"kind": "near", "pct": 5, "expected": 3.0}
    assert characteristic({"unit": "A", "bounds": [near]}, []) is None

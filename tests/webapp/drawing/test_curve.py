"""The relay's curve: where it runs, its band and what was measured."""

import math

import pytest

from models import criteria
from models.judging import Subject, compile_rule
from models.services.log import texted
from tests.webapp.drawing.sample_drawings import SOLID_15_KV, relay_rule
from webapp.drawing import Timed, time_current
from webapp.drawing.shapes import Circle, Line, Polyline, Text

RULE = relay_rule()


def timed(multiple, seconds, verdict="within"):
    return Timed(
        label=f"{multiple} ×",
        applied_a=480.0 * multiple,
        seconds=seconds,
        verdict=verdict,
    )


# IEEE C37.112: t = dial (19.61 / (M^2 - 1) + 0.491), dial 2, worked by hand:
# M 2: 2 (6.53667 + 0.491) = 14.0553; M 5: 2 (0.817083 + 0.491) = 2.61617.
WORKED = {2: 14.0553, 5: 2.61617}


@pytest.mark.parametrize(("multiple", "seconds"), WORKED.items())
def test_a_time_on_the_curve_lies_on_the_line(multiple, seconds):
    drawing = time_current(RULE, [timed(multiple, seconds)])
    (mark,) = [s for s in drawing.items if isinstance(s, Circle)]
    (line,) = [
        s for s in drawing.items if isinstance(s, Polyline) and s.style == "curve"
    ]
    before = max((p for p in line.points if p[0] <= mark.x), key=lambda p: p[0])
    after = min((p for p in line.points if p[0] >= mark.x), key=lambda p: p[0])
    assert after[1] >= mark.y - 0.1
    assert before[1] <= mark.y + 0.1


def test_the_band_holds_the_tolerance():
    # 5 % of 2.61617 s is 0.1308 s, more than 35 ms.
    edge = 2.61617 * 1.05
    drawing = time_current(RULE, [timed(5, edge)])
    (mark,) = [s for s in drawing.items if isinstance(s, Circle)]
    upper = [
        s for s in drawing.items if isinstance(s, Polyline) and s.style == "band-edge"
    ][1]
    near = min(upper.points, key=lambda p: abs(p[0] - mark.x))
    assert abs(near[1] - mark.y) < 0.6


def test_both_axes_are_logarithmic():
    drawing = time_current(RULE, [timed(2, 8.0), timed(4, 4.0), timed(8, 2.0)])
    marks = [s for s in drawing.items if isinstance(s, Circle)]
    assert marks[1].x - marks[0].x == pytest.approx(marks[2].x - marks[1].x)
    assert marks[1].y - marks[0].y == pytest.approx(marks[2].y - marks[1].y)


def test_the_curve_begins_at_the_first_timing_point():
    drawing = time_current(RULE, [timed(2, 14.0)])
    (line,) = [
        s for s in drawing.items if isinstance(s, Polyline) and s.style == "curve"
    ]
    (pickup,) = [
        s for s in drawing.items if isinstance(s, Line) and s.style == "limit-line"
    ]
    (two,) = [s.x for s in drawing.items if isinstance(s, Circle)]
    share = (line.points[0][0] - pickup.x1) / (two - pickup.x1)
    assert share == pytest.approx(math.log(1.3) / math.log(2))


def test_one_that_did_not_operate_is_said_in_words():
    drawing = time_current(RULE, [timed(0.9, None)])
    assert "did not operate" in [s.text for s in drawing.items if isinstance(s, Text)]
    assert "0.9 ×: did not operate, within" in drawing.description


def test_a_frozen_rule_draws_the_same():
    points = [timed(2, 14.1)]
    assert time_current(texted(RULE), points) == time_current(RULE, points)


def test_a_rule_without_a_time_has_no_curve():
    rule = compile_rule(
        "insulation_resistance", Subject(**SOLID_15_KV), criteria.load()
    )
    assert time_current(rule.to_json(), []) is None

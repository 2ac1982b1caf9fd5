"""The relay's curve: where it runs, its band and what was measured."""

import math
from dataclasses import replace

import pytest

from models import criteria
from models.procedures import Subject, compile_rule
from models.services.keeping.log import texted
from tests.webapp.drawing.sample_drawings import SOLID_15_KV, relay_rule
from webapp.drawing import Timed, fit_lines, time_current
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


def drawn(rule, points, style):
    drawing = time_current(rule, points)
    return [s for s in drawing.items if isinstance(s, Polyline) and s.style == style]


def at_multiple(multiple, line, drawing):
    """Return the places of a line at a multiple that is measured there too."""
    (mark,) = [s for s in drawing.items if isinstance(s, Circle)]
    return [y for x, y in line.points if abs(x - mark.x) < 0.01]


def test_assigned_error_makes_a_step_where_the_band_changes():
    rule = relay_rule(bands="iec_60255_151", tolerance_pct=5.0)
    points = [timed(5, 2.6)]
    drawing = time_current(rule, points)
    upper = drawn(rule, points, "band-edge")[1]
    before, after = at_multiple(5, upper, drawing)
    assert after > before  # further down: the band is narrower


def test_assigned_error_begins_at_its_first_multiple():
    rule = relay_rule(bands="iec_60255_151", tolerance_pct=5.0)
    drawing = time_current(rule, [timed(2, 14.0)])
    upper = drawn(rule, [timed(2, 14.0)], "band-edge")[1]
    (mark,) = [s for s in drawing.items if isinstance(s, Circle)]
    assert upper.points[0][0] == pytest.approx(mark.x)


def test_above_a_ceiling_the_curve_is_flat():
    rule = relay_rule(ceiling_multiple=10.0)
    (line,) = drawn(rule, [timed(20, 1.4)], "curve")
    assert line.points[-1][1] == pytest.approx(line.points[-10][1])


def test_a_minimum_time_ends_the_slope():
    low = relay_rule(minimum_time_s=2.0)
    (line,) = drawn(low, [timed(20, 2.0)], "curve")
    assert line.points[-1][1] == line.points[-2][1]


def test_an_error_of_pickup_widens_the_band():
    points = [timed(2, 14.0)]
    heights = []
    for rule in (RULE, relay_rule(pickup_error_pct=5.0)):
        lower, upper = drawn(rule, points, "band-edge")
        heights.append(lower.points[0][1] - upper.points[0][1])
    assert heights[1] > 1.5 * heights[0]


# Times of a relay whose pickup is 3 % high: t = 2 (19.61 / ((M / 1.03)^2 - 1) + 0.491)
HIGH = {m: 2 * (19.61 / ((m / 1.03) ** 2 - 1) + 0.491) for m in (2.0, 3.0, 5.0, 10.0)}


def test_the_fitted_curve_goes_through_the_points():
    points = [timed(m, seconds) for m, seconds in HIGH.items()]
    (line,) = drawn(RULE, points, "fitted")
    marks = [s for s in time_current(RULE, points).items if isinstance(s, Circle)]
    ends = (line.points[0], line.points[-1])
    assert [(m.x, m.y) for m in (marks[0], marks[-1])] == [
        pytest.approx(end, abs=0.01) for end in ends
    ]
    assert fit_lines(RULE, points)[0].startswith(
        "The times fit a pickup of 1.030 × set"
    )


def test_a_bound_is_no_time_to_fit():
    points = [timed(m, seconds) for m, seconds in HIGH.items()]
    points[1:3] = [replace(one, exact=False) for one in points[1:3]]
    assert drawn(RULE, points, "fitted") == []
    assert fit_lines(RULE, points)[0].endswith("there are 2.")


def test_a_definite_time_is_not_fitted():
    rule = relay_rule(curve="definite_time")
    assert fit_lines(rule, [timed(2, 2.0)]) == []


def test_the_measured_pickup_is_what_multiples_are_of_where_it_decides():
    rule = relay_rule(timed_against="measured_pickup")
    points = [replace(timed(2, 14.0), pickup_a=494.4)]
    words = [s.text for s in time_current(rule, points).items if isinstance(s, Text)]
    assert "multiple of measured pickup 494.4 A" in words


def test_a_frozen_rule_with_options_draws_the_same():
    rule = relay_rule(bands="iec_60255_151", tolerance_pct=5.0, ceiling_multiple=20.0)
    points = [timed(m, seconds) for m, seconds in HIGH.items()]
    assert time_current(texted(rule), points) == time_current(rule, points)
    assert fit_lines(texted(rule), points) == fit_lines(rule, points)

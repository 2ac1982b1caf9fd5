"""Each verdict has a shape of its own: colour never stands alone."""

import pytest

from webapp.drawing.marks import lozenge, verdict_mark
from webapp.drawing.shapes import Circle, HalfDisc, Polyline
from webapp.drawing.styles import STYLES

SHAPES = {
    "within": [Circle],
    "marginal": [Circle, HalfDisc],
    "outside": [Polyline],
    "unjudged": [Circle],
}


@pytest.mark.parametrize(("verdict", "kinds"), SHAPES.items(), ids=SHAPES)
def test_shapes(verdict, kinds):
    assert [type(s) for s in verdict_mark(verdict, 10.0, 10.0, 4.0)] == kinds


def test_a_full_disc_and_a_dashed_ring_differ_without_colour():
    assert STYLES["within-mark"].fill
    assert not STYLES["within-mark"].dash
    assert not STYLES["unjudged-mark"].fill
    assert STYLES["unjudged-mark"].dash


def test_the_triangle_points_up():
    (triangle,) = verdict_mark("outside", 10.0, 10.0, 4.0)
    tip = min(triangle.points, key=lambda p: p[1])
    assert tip == (10.0, 6.0)


def test_a_lozenge_is_centred():
    shape = lozenge(10.0, 20.0, 5.0, "within-mark")
    assert sum(x for x, _ in shape.points) / 4 == pytest.approx(10.0)
    assert sum(y for _, y in shape.points) / 4 == pytest.approx(20.0)
    assert shape.closed

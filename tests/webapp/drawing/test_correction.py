"""Correction factors over the temperature."""

import itertools

import pytest

from models.criteria import load
from models.judging import Rule
from webapp.drawing.correction import Factors, correction
from webapp.drawing.shapes import Circle, Polyline, Text

SOLID = [
    (row["temperature_c"], row["solid"])
    for row in load().table("insulation_correction_20").rows
]


def drawn(*columns, **rest):
    drawing = correction([Factors(name=n, points=p) for n, p in columns], **rest)
    assert drawing is not None
    return drawing


def lines(drawing):
    return [
        s
        for s in drawing.items
        if isinstance(s, Polyline) and s.style.startswith("series-")
    ]


def test_each_row_is_a_mark_and_nothing_is_drawn_beyond_the_rows():
    drawing = drawn(("solid", SOLID), reference_c=20.0)
    marks = [s for s in drawing.items if isinstance(s, Circle)]
    assert len(marks) == len(SOLID) == 25
    (line,) = lines(drawing)
    assert len(line.points) == 25
    assert line.points[0] == (marks[0].x, marks[0].y)
    assert line.points[-1] == (marks[-1].x, marks[-1].y)


def test_rows_are_joined_as_a_reading_between_them_is_corrected():
    """A straight line on the drawing is the interpolation of docs/judging.md 5."""
    rule = Rule(
        procedure="insulation_resistance",
        unit="MOhm",
        correction={
            "by": "factor",
            "reference_c": 20.0,
            "label": "solid",
            "points": [[30, 1.58], [35, 2.0]],
        },
    )
    factor = rule.correct(31.0)
    between = [(30, 1.58), (31, factor), (35, 2.0)]
    (line,) = lines(drawn(("solid", between)))
    (x1, y1), (x2, y2), (x3, y3) = line.points
    assert (y2 - y1) / (x2 - x1) == pytest.approx((y3 - y1) / (x3 - x1))
    assert factor == pytest.approx(1.6563, abs=5e-5)  # docs/judging.md 11, by hand


def test_warmer_is_further_right_and_more_is_higher():
    (line,) = lines(drawn(("solid", SOLID)))
    for (x1, y1), (x2, y2) in itertools.pairwise(line.points):
        assert x2 > x1
        assert y2 < y1


def test_columns_are_told_apart_by_line_and_name():
    drawing = drawn(("oil", [(0, 0.25), (40, 4)]), ("solid", [(0, 0.4), (40, 2.5)]))
    assert len({line.style for line in lines(drawing)}) == 2
    assert {"oil", "solid"} <= {s.text for s in drawing.items if isinstance(s, Text)}


def test_the_reference_is_drawn_where_the_rows_hold_it():
    def said(reference_c):
        drawing = drawn(("solid", SOLID), reference_c=reference_c)
        return [s.text for s in drawing.items if isinstance(s, Text)]

    assert "reference 20 °C" in said(20.0)
    assert not [word for word in said(200.0) if word.startswith("reference")]


@pytest.mark.parametrize("points", [[], [(20, 1.0)], [(0, 0.0), (20, -1.0)]])
def test_there_is_nothing_to_draw(points):
    assert correction([Factors(name="one", points=points)]) is None

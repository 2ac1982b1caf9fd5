"""One quantity over the rounds."""

import itertools

import pytest

from tests.webapp.drawing.sample_drawings import poles, seen
from webapp.drawing import Series, trend
from webapp.drawing.shapes import Circle, Line, Polyline, Text, shapes_of


def marks(drawing):
    return [
        s
        for s in shapes_of(drawing.items)
        if isinstance(s, Circle) and s.style == "within-mark"
    ]


def lines(drawing):
    return [
        s
        for s in drawing.items
        if isinstance(s, Polyline) and s.style.startswith("series-")
    ]


@pytest.mark.parametrize("rounds", [1, 2, 30])
def test_each_reading_is_a_mark(rounds):
    drawing = trend(poles(rounds), unit="uOhm", limit_high=80.0)
    assert len(marks(drawing)) == 3 * rounds
    assert len(lines(drawing)) == (3 if rounds > 1 else 0)


def test_later_is_further_right_and_more_is_higher():
    one = Series(name="A", points=[seen(2026, 50.0), seen(2024, 40.0)])
    early, late = marks(trend([one], unit="uOhm"))
    assert early.x < late.x
    assert early.y > late.y


def test_poles_are_told_apart_by_more_than_colour():
    drawing = trend(poles(3), unit="uOhm")
    assert len({line.style for line in lines(drawing)}) == 3
    words = [s.text for s in drawing.items if isinstance(s, Text)]
    assert {"pole A", "pole B", "pole C"} <= set(words)


def test_names_keep_apart_where_the_last_readings_meet():
    close = [Series(name=n, points=[seen(2024, 40.0)]) for n in "ABCDEF"]
    drawing = trend(close, unit="uOhm")
    names = sorted(
        s.y for s in drawing.items if isinstance(s, Text) and s.text in "ABCDEF"
    )
    assert all(b - a >= 12 for a, b in itertools.pairwise(names))


def test_the_limit_is_drawn_where_it_is_and_named():
    drawing = trend(
        [Series(name="A", points=[seen(2024, 60.0)])], unit="uOhm", limit_high=60.0
    )
    (limit,) = [
        s for s in drawing.items if isinstance(s, Line) and s.style == "limit-line"
    ]
    (point,) = marks(drawing)
    assert limit.y1 == pytest.approx(point.y)
    assert "limit 60 µΩ" in [s.text for s in drawing.items if isinstance(s, Text)]


def test_decades_are_equally_far_apart():
    one = Series(name="A", points=[seen(2024 + n, 10.0**n * 100) for n in range(3)])
    first, second, third = marks(trend([one], unit="MOhm", logarithmic=True))
    assert first.y - second.y == pytest.approx(second.y - third.y)
    assert first.y > third.y


def test_the_axis_names_its_unit():
    drawing = trend(
        [Series(name="A", points=[seen(2024, 8400.0)])], unit="MOhm", logarithmic=True
    )
    words = [s.text for s in drawing.items if isinstance(s, Text)]
    assert "GΩ at the reference temperature" in words


def test_over_range_is_an_arrow_up():
    one = Series(name="A", points=[seen(2024, 200.0, over_range=True, u=9.0)])
    drawing = trend([one], unit="MOhm", logarithmic=True)
    (shaft,) = [
        s for s in drawing.items if isinstance(s, Line) and s.style == "within-line"
    ]
    assert shaft.y2 < shaft.y1


NOTHING = {
    "no series": [],
    "no points": [Series(name="A", points=[])],
    "zero on a logarithmic scale": [Series(name="A", points=[seen(2024, 0.0)])],
}


@pytest.mark.parametrize("series", NOTHING.values(), ids=NOTHING)
def test_nothing_to_draw(series):
    assert trend(series, unit="MOhm", logarithmic=True) is None


def test_days_never_run_into_each_other():
    drawing = trend(poles(30), unit="uOhm")
    years = [
        s.x for s in drawing.items if isinstance(s, Text) and s.text.startswith("20")
    ]
    assert len(years) > 5
    assert all(b - a > 24 for a, b in itertools.pairwise(years))


@pytest.mark.parametrize(("unit", "said"), [("s", "s"), ("Pa", "Pa")])
def test_what_is_not_corrected_is_not_said_to_be(unit, said):
    one = Series(name="2 × pickup", points=[seen(2024, 1.4), seen(2026, 1.5)])
    words = [
        s.text for s in shapes_of(trend([one], unit=unit).items) if isinstance(s, Text)
    ]
    assert said in words

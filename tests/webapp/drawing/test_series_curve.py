"""A row of readings: where it lies, what says that a value is a bound."""

import itertools

import pytest

from models.judging.series import (
    EXCITATION,
    FALL,
    LEAKAGE,
    STEPS,
    TIMED,
    Series,
    parse_series,
)
from models.judging.tables import Criteria
from models.procedures import Subject, compile_rule
from tests.data.cases_words_rows import CURVE, FIFTY
from webapp.drawing import Row, series_curve
from webapp.drawing.series_curve import time_words
from webapp.drawing.shapes import Circle, Drawing, Line, Polyline, Rect, Text, shapes_of
from webapp.words.row_lines import flat_band, places_read


def drawn(series: Series, *texts: str, unit: str = "GOhm") -> Drawing:
    rows = [
        Row(steps=parse_series(series.name, text), name=str(2024 + n) if n else "")
        for n, text in enumerate(texts)
    ]
    drawing = series_curve(series, rows, unit)
    assert drawing is not None
    return drawing


def marks(drawing: Drawing) -> list[Circle]:
    return [s for s in shapes_of(drawing.items) if isinstance(s, Circle)]


def words(drawing: Drawing) -> list[str]:
    return [s.text for s in shapes_of(drawing.items) if isinstance(s, Text)]


def test_later_is_further_right_by_the_logarithm_and_more_is_higher() -> None:
    first, second, third = marks(drawn(TIMED, "30:2 60:3 120:4"))
    assert second.x - first.x == pytest.approx(third.x - second.x)
    assert first.y > second.y > third.y


def test_voltages_lie_evenly_from_nought() -> None:
    x = [mark.x for mark in marks(drawn(STEPS, "1:5 2:5 3:5"))]
    assert x[1] - x[0] == pytest.approx(x[2] - x[1])


@pytest.mark.parametrize("texts", [(), ("60:3",), ("30:0 60:3",)])
def test_two_readings_are_wanted_for_a_curve(texts: tuple[str, ...]) -> None:
    rows = [Row(steps=parse_series("timed", text)) for text in texts]
    assert series_curve(TIMED, rows, "GOhm") is None


def test_a_bound_has_an_arrow_to_its_side() -> None:
    drawing = drawn(TIMED, "30:<2 60:3 600:>4")
    low, _, high = marks(drawing)
    arrows = [
        s for s in shapes_of(drawing.items) if isinstance(s, Line) and s.style == "axis"
    ]
    assert [(a.x1, a.y2 > a.y1) for a in arrows] == [(low.x, True), (high.x, False)]


def test_times_and_units_are_those_people_say() -> None:
    said = words(drawn(TIMED, "15:1 30:2 60:3 600:4"))
    assert {"15 s", "30 s", "1 min", "10 min", "GΩ"} <= set(said)
    assert [time_words(t) for t in (45, 60, 90, 600)] == [
        "45 s",
        "1 min",
        "90 s",
        "10 min",
    ]
    assert "Voltage, dc, kV" in words(drawn(LEAKAGE, "10:3 20:6", unit="µA"))


def test_rounds_are_told_apart_by_line_and_name() -> None:
    drawing = drawn(TIMED, "30:2 60:3", "30:3 60:4", "30:4 60:5")
    curves = [
        s
        for s in shapes_of(drawing.items)
        if isinstance(s, Polyline) and s.style.startswith("series-")
    ]
    assert len({curve.style for curve in curves}) == 3
    assert {"2025", "2026"} <= set(words(drawing))


def test_names_keep_apart_where_curves_end_together() -> None:
    steps = parse_series("timed", "60:3 600:4")
    rows = [Row(steps=steps, name=str(year)) for year in range(2020, 2026)]
    drawing = series_curve(TIMED, rows, "GOhm")
    assert drawing is not None
    places = sorted(
        s.y
        for s in shapes_of(drawing.items)
        if isinstance(s, Text) and s.text.startswith("202")
    )
    assert len(places) == 6
    assert all(b - a >= 12 for a, b in itertools.pairwise(places))


def test_leakage_is_drawn_beside_what_grows_with_the_voltage() -> None:
    """Twice the voltage, twice the current: the mark lies on the dotted line."""
    drawing = drawn(LEAKAGE, "10:3 20:6", unit="µA")
    (line,) = [
        s
        for s in shapes_of(drawing.items)
        if isinstance(s, Line) and s.style == "series-3"
    ]
    last = marks(drawing)[-1]
    assert (line.x2, line.y2) == pytest.approx((last.x, last.y))


def test_what_a_rule_reads_off_a_row_stands_on_it(criteria: Criteria) -> None:
    """The knees of the crowd's curve: 264.4 V by rise, 226.4 and 248.8 by slope."""
    rule = compile_rule("ct_excitation", Subject(knee_v=250.0), criteria).to_json()
    found = places_read(rule, EXCITATION, parse_series("excitation", CURVE), {})
    assert found == pytest.approx(
        {"knee +10 % V, +50 % A": 264.4, "knee 45°": 226.4, "knee 30°": 248.8}, abs=0.05
    )
    rule = compile_rule("ground_resistance", Subject(), criteria).to_json()
    at = {"ground_method": "fall", "probe_m": 50}
    steps = parse_series("fall", FIFTY)
    assert places_read(rule, FALL, steps, at) == pytest.approx(
        {"61.8 %": 30.90}, abs=0.01
    )
    assert flat_band(rule, FALL, at) == pytest.approx((26, 36))
    assert not places_read(rule, FALL, steps, {"ground_method": "clamp"})
    row = Row(steps=steps, marks={"61.8 %": 30.9}, band=(26, 36))
    drawing = series_curve(FALL, [row], "Ohm")
    assert drawing is not None
    (band,) = [s for s in shapes_of(drawing.items) if isinstance(s, Rect)]
    third, fifth = marks(drawing)[2], marks(drawing)[4]
    assert (band.x, band.x + band.width) == pytest.approx((third.x, fifth.x))
    assert "61.8 % at 30.9 m" in drawing.description


def test_figures_of_a_long_logarithmic_scale_do_not_touch() -> None:
    drawing = drawn(EXCITATION, "10:0.004 40:0.012 100:0.03 300:0.9 500:15", unit="A")
    figures = [s for s in shapes_of(drawing.items) if isinstance(s, Text)]
    beside = [s.y for s in figures if s.anchor == "end" and s.style == "figure"]
    heights = sorted(beside)
    assert len(heights) == 4  # 0.01, 0.1, 1 and 10
    assert all(b - a > 12 for a, b in itertools.pairwise(heights))

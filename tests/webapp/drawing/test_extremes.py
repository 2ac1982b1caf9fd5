"""Every finite number can be drawn: what is absurd lies at an edge, and says so."""

import math
import xml.etree.ElementTree as ElementTree
from datetime import date

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from models.judging.series import LEAKAGE, STEPS, TIMED, parse_series
from models.judging.series import Series as Kind
from tests.webapp.drawing.sample_drawings import relay_rule
from webapp.drawing import (
    Row,
    Seen,
    Series,
    Timed,
    limit_strip,
    series_curve,
    svg,
    time_current,
    trend,
)
from webapp.drawing.shapes import Drawing, Line, Polyline, shapes_of

LEAST, MOST = 5e-324, 1.7976931348623157e308
decades = st.integers(-323, 308).map(lambda exponent: float(f"1e{exponent}"))
positive = decades | st.floats(min_value=LEAST, allow_infinity=False)
maybe = st.none() | positive
units = st.sampled_from(["MOhm", "uOhm", "Pa", "s"])


def check(drawing: Drawing | None) -> None:
    """Insist on XML, and on places that lie inside the drawing."""
    if drawing is None:
        return
    ElementTree.fromstring(svg(drawing))
    for shape in shapes_of(drawing.items):
        places = shape.points if isinstance(shape, Polyline) else ()
        if isinstance(shape, Line):
            places = ((shape.x1, shape.y1), (shape.x2, shape.y2))
        for x, y in places:
            assert math.isfinite(x) and math.isfinite(y), shape
            assert -ARROW <= x <= drawing.width + ARROW, shape
            assert -ARROW <= y <= drawing.height + ARROW, shape


ARROW = 24  # what an arrow or a name may stand out by, from a mark at the edge


@pytest.mark.property
@example(value=LEAST, low=5000.0, high=None, u=None, unit="MOhm")
@example(value=MOST, low=LEAST, high=None, u=MOST, unit="uOhm")
@given(value=positive, low=maybe, high=maybe, u=maybe, unit=units)
def test_a_strip(
    value: float, low: float | None, high: float | None, u: float | None, unit: str
) -> None:
    judgement = {
        "verdict": "outside",
        "corrected": value,
        "corrected_unit": unit,
        "limit_low": low,
        "limit_high": high,
        "uncertainty": u,
    }
    check(limit_strip(judgement))


@pytest.mark.property
@example(one=LEAST, other=LEAST, limit=5000.0, u=None, unit="MOhm", logarithmic=True)
@example(one=MOST, other=LEAST, limit=None, u=MOST, unit="uOhm", logarithmic=False)
@given(
    one=positive,
    other=positive,
    limit=maybe,
    u=maybe,
    unit=units,
    logarithmic=st.booleans(),
)
def test_a_trend(
    one: float,
    other: float,
    limit: float | None,
    u: float | None,
    unit: str,
    logarithmic: bool,
) -> None:
    seen = [
        Seen(at=date(2026, 3, 3), value=one, verdict="within", u=u),
        Seen(at=date(2028, 3, 3), value=other, verdict="marginal"),
    ]
    check(
        trend(
            [Series(name="A-G", points=seen)],
            unit=unit,
            logarithmic=logarithmic,
            limit_low=limit,
        )
    )


@pytest.mark.property
@example(applied_a=LEAST, seconds=MOST, pickup_a=480.0, dial=2.0)
@example(applied_a=MOST, seconds=LEAST, pickup_a=480.0, dial=2.0)
@given(applied_a=positive, seconds=maybe, pickup_a=positive, dial=positive)
def test_a_curve(
    applied_a: float, seconds: float | None, pickup_a: float, dial: float
) -> None:
    timed = [
        Timed(label="2 ×", applied_a=960.0, seconds=2.0, verdict="within"),
        Timed(label="typed", applied_a=applied_a, seconds=seconds, verdict="outside"),
    ]
    rule = relay_rule()
    bound = next(b for b in rule["bounds"] if b["kind"] == "operating_time")
    bound.update(pickup_a=pickup_a, time_dial=dial)
    check(time_current(rule, timed))


ROWS = {
    "over time": (TIMED, "15:5e-324 30:2.6 60:1e12"),
    "over time, all but nothing": (TIMED, "15:5e-324 30:5e-324"),
    "in steps": (STEPS, "1:1e12 2.5:5e-324"),
    "in steps of almost no voltage": (STEPS, "1e-320:5 2e-320:6"),
    "leakage": (LEAKAGE, "10:5e-324 20:1e12"),
    "leakage at almost no voltage": (LEAKAGE, "5e-324:1e12 20:6"),
}


@pytest.mark.parametrize(("series", "text"), ROWS.values(), ids=ROWS)
def test_a_row_of_readings(series: Kind, text: str) -> None:
    steps = parse_series(series.name, text)
    drawing = series_curve(series, [Row(steps=steps)], "GOhm")
    assert drawing is not None
    check(drawing)

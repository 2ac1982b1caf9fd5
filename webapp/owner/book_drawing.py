"""The pictures of a gear book: its elevation, the trend of a point."""

from collections.abc import Mapping, Sequence
from datetime import timedelta
from typing import Any
from zoneinfo import ZoneInfo

from flask import url_for
from markupsafe import Markup

from models.analysis.pressure_trend import DAYS_A_YEAR, PressureTrend
from models.services.owner.gear_book import GearBook
from models.services.owner.trends import RowSeen, Trend, TrendPoint
from webapp.drawing import Fitted, Row, Seen, Series, series_curve, svg, trend
from webapp.elevation_rows import elevation_rows
from webapp.words.read_rows import ReadRow

PIECES = 60  # of the band's edges, which are curved
BEYOND = 1.1  # the line is drawn a little past the limit


def book_elevation(book: GearBook, chosen: str) -> list[Markup]:
    """Return the elevation, row by row; a cell leads to its part of the baseline."""
    numbers = [cell["number"] for cell in book.cells]
    return elevation_rows(
        book.cells,
        hrefs=[
            url_for("owner.book", lineup_id=book.id, cell=number, _anchor="baseline")
            for number in numbers
        ],
        chosen=numbers.index(chosen) if chosen in numbers else None,
        ratings=book.ratings,
        gear=book.gear,
        title=f"Front elevation of {book.name}",
    )


def trend_picture(found: Trend) -> Markup:
    """Return the trend of a point and its mates; nothing where none has numbers."""
    series = [
        Series(name=name, points=_seen(points, found.zone))
        for name, points in (
            (found.point, found.points),
            *((label, points) for label, _, points in found.mates),
        )
    ]
    drawn = trend(
        [one for one in series if one.points],
        unit=found.base,
        logarithmic=found.logarithmic,
        limit_low=found.limit_low,
        limit_high=found.limit_high,
        fitted=_fitted(found.pressure),
        title=f"{found.title}, {found.where}, {found.point}",
        width=640.0,
        height=340.0,
    )
    return Markup(svg(drawn)) if drawn else Markup()  # noqa: S704 (escaped there)


def rows_picture(rows: Sequence[RowSeen], zone: str, rule: Mapping[str, Any]) -> Markup:
    """Return the rows of one kind, oldest round first, each named by its year.

    The newest has its marks: of a record, and what *rule* reads off it.
    """
    first = rows[0]
    read = ReadRow(series=first.series, steps=first.steps, unit=first.unit, rule=rule)
    named = [
        Row(
            steps=row.steps,
            name=str(row.at.astimezone(ZoneInfo(zone)).year),
            marks=read.marks if row is first else {},
        )
        for row in reversed(rows)
        if row.unit == first.unit
    ]
    drawn = series_curve(first.series, named, first.unit, width=420.0, height=220.0)
    return Markup(svg(drawn)) if drawn else Markup()  # noqa: S704 (escaped there)


def _fitted(found: PressureTrend | None) -> Fitted | None:
    """Return the line through the pressures, on to where it meets the limit."""
    if found is None or found.line is None:
        return None
    line, left = found.line, found.left
    ahead = 0.0 if left is None else left.latest or left.about or line.horizon
    ends = (-line.observed, min(ahead * BEYOND, line.horizon))
    times = [ends[0] + (ends[1] - ends[0]) * n / PIECES for n in range(PIECES + 1)]
    bands = [line.band(t) for t in times]
    return Fitted(
        days=[line.last + timedelta(days=t * DAYS_A_YEAR) for t in times],
        line=[line.at(t) for t in times],
        band=[band for band in bands if band is not None],
    )


def _seen(points: list[TrendPoint], zone: str) -> list[Seen]:
    return [
        Seen(
            at=point.at.astimezone(ZoneInfo(zone)),
            value=point.value,
            verdict=point.verdict,
            u=point.uncertainty,
            over_range=point.over_range,
            under_range=point.under_range,
        )
        for point in points
        if point.value is not None
    ]

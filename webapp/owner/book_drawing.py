"""The pictures of a gear book: its elevation, the trend of a point."""

from zoneinfo import ZoneInfo

from flask import url_for
from markupsafe import Markup

from models.services.gear_book import GearBook
from models.services.trends import Trend, TrendPoint
from webapp.drawing import Seen, Series, svg, trend
from webapp.elevation_rows import elevation_rows


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
        unit=found.unit,
        logarithmic=found.logarithmic,
        limit_low=found.limit_low,
        limit_high=found.limit_high,
        title=f"{found.title}, {found.where}, {found.point}",
        width=640.0,
        height=340.0,
    )
    return Markup(svg(drawn)) if drawn else Markup()  # noqa: S704 (escaped there)


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

"""One quantity over the rounds, at the reference temperature."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from models.judging.wording import scale_for
from webapp.drawing.figures import short_amount, shown_amount
from webapp.drawing.fit import text_width
from webapp.drawing.marks import verdict_mark
from webapp.drawing.scales import Scale, fit_scale, tick_words
from webapp.drawing.shapes import Drawing, Item, Line, Polyline, Rect, Text

WIDTH, HEIGHT = 640.0, 300.0
LEFT, TOP, BOTTOM = 64.0, 26.0, 42.0
NAME_STYLE = "label"
CORRECTED = ("MOhm", "uOhm")  # times and pressures are compared as read
LINES = 6  # series styles there are


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """One round's reading; *value* in the trend's unit, *u* its U."""

    at: date | datetime
    value: float
    verdict: str
    u: float | None = None
    over_range: bool = False
    under_range: bool = False

    @property
    def day(self) -> date:
        """The day it was taken."""
        return self.at.date() if isinstance(self.at, datetime) else self.at


@dataclass(frozen=True, slots=True, kw_only=True)
class Series:
    """The readings of one point over the rounds, such as pole A."""

    name: str
    points: Sequence[Seen]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """A fitted line from *days*, its values, and its band where it has one."""

    days: Sequence[date]
    line: Sequence[float]
    band: Sequence[tuple[float, float]] = ()


def trend(
    series: Sequence[Series],
    *,
    unit: str,
    logarithmic: bool = False,
    limit_low: float | None = None,
    limit_high: float | None = None,
    fitted: Fitted | None = None,
    title: str = "Trend",
    width: float = WIDTH,
    height: float = HEIGHT,
) -> Drawing | None:
    """Return the trend of *series*; None when there is nothing to draw.

    *unit* is a base unit of judging (MOhm, uOhm, Pa, s). A limit is drawn
    through; on a logarithmic scale values at or below zero are left out.
    """
    kept = _drawable(series, logarithmic=logarithmic)
    if not kept:
        return None
    limits = [v for v in (limit_low, limit_high) if v is not None]
    words, over = scale_for(_middle(kept), unit)
    right = 20 + max(text_width(s.name, NAME_STYLE) for s in kept)
    across = _across(kept, fitted, width - right - 12)
    up = _up(kept, limits, over, height, logarithmic=logarithmic)
    return Drawing(
        width=width,
        height=height,
        kind="trend",
        title=title,
        description=_describe(kept, unit),
        items=[
            *_permitted(limit_low, limit_high, over, across, up),
            *(_fit(fitted, over, across, up) if fitted else []),
            *_grid(across, up, words, unit),
            *_dates(kept, fitted, across, up.start),
            *_limits(limits, unit, over, across, up),
            *_curves(kept, over, across, up),
            *_names(kept, over, across, up),
        ],
    )


def _drawable(series: Sequence[Series], *, logarithmic: bool) -> list[Series]:
    """Return the series with the points that have a place on the scale."""
    kept = [
        Series(
            name=one.name,
            points=[p for p in one.points if p.value > 0 or not logarithmic],
        )
        for one in series
    ]
    return [one for one in kept if one.points]


def _middle(series: Sequence[Series]) -> float:
    values = sorted(p.value for s in series for p in s.points)
    return values[len(values) // 2]


def _across(series: Sequence[Series], fitted: Fitted | None, end: float) -> Scale:
    days = [p.day.toordinal() for s in series for p in s.points]
    days += [day.toordinal() for day in fitted.days] if fitted else []
    room = max(12.0, (max(days) - min(days)) * 0.04)
    return fit_scale(min(days) - room, max(days) + room, LEFT, end)


def _up(
    series: Sequence[Series],
    limits: Sequence[float],
    over: float,
    height: float,
    *,
    logarithmic: bool,
) -> Scale:
    values = [*limits]
    for one in (p for s in series for p in s.points):
        u = 0.0 if logarithmic else one.u or 0.0
        values += [one.value - u, one.value + u]
    low, high = min(values) / over, max(values) / over
    if logarithmic:
        return fit_scale(low / 2, high * 2, height - BOTTOM, TOP, logarithmic=True)
    room = (high - low) * 0.15 or abs(high) * 0.1 or 1.0
    low = 0.0 if low >= 0 and low < high * 0.6 else low - room
    return fit_scale(low, high + room, height - BOTTOM, TOP)


def _permitted(
    low: float | None, high: float | None, over: float, across: Scale, up: Scale
) -> list[Item]:
    if low is None and high is None:
        return []
    bottom = up.start if low is None else up.place(low / over)
    top = up.end if high is None else up.place(high / over)
    wide = across.end - across.start
    return [Rect(across.start, top, wide, max(0.0, bottom - top), "permitted")]


def _fit(fitted: Fitted, over: float, across: Scale, up: Scale) -> list[Item]:
    """Return the band and the line, as far as they lie on the scale."""
    xs = [across.place(day.toordinal()) for day in fitted.days]
    items: list[Item] = []
    if fitted.band:
        edges = [
            [
                (x, up.place(pair[n] / over))
                for x, pair in zip(xs, fitted.band, strict=True)
            ]
            for n in (0, 1)
        ]
        whole = (*edges[0], *reversed(edges[1]))
        items.append(Polyline(whole, "band", closed=True))
    line = tuple(
        (x, up.place(value / over))
        for x, value in zip(xs, fitted.line, strict=True)
        if up.holds(value / over)
    )
    return [*items, Polyline(line, "curve")] if len(line) > 1 else items


def _grid(across: Scale, up: Scale, words: str, unit: str) -> list[Item]:
    values = up.ticks(5)
    items: list[Item] = []
    for value, said in zip(values, tick_words(values), strict=True):
        y = up.place(value)
        items += [
            Line(across.start, y, across.end, y, "grid"),
            Text(across.start - 6, y + 3, said, "figure", "end"),
        ]
    corner = ((across.start, up.end), (across.start, up.start), (across.end, up.start))
    at = " at the reference temperature" if unit in CORRECTED else ""
    return [*items, Polyline(corner, "axis"), Text(8, 14, words.strip() + at, "label")]


def _dates(
    series: Sequence[Series], fitted: Fitted | None, across: Scale, y: float
) -> list[Item]:
    """Return the rounds' days and a line's end, as many as have room."""
    days = sorted({p.day for s in series for p in s.points})
    days += [day for day in fitted.days[-1:] if day > days[-1]] if fitted else []
    items: list[Item] = []
    free_from = 0.0
    for day in days:
        x = across.place(day.toordinal())
        items.append(Line(x, y, x, y + 4, "tick"))
        said = f"{day.day} {day:%b}"
        half = max(text_width(said, "figure"), text_width("2000", "figure")) / 2
        if x - half < free_from:
            continue
        free_from = x + half + 6
        items += [
            Text(x, y + 15, said, "figure", "middle"),
            Text(x, y + 26, str(day.year), "figure", "middle"),
        ]
    return items


def _limits(
    limits: Sequence[float], unit: str, over: float, across: Scale, up: Scale
) -> list[Item]:
    items: list[Item] = []
    for limit in limits:
        y = up.place(limit / over)
        items += [
            Line(across.start, y, across.end, y, "limit-line"),
            Text(
                across.start + 5,
                y - 4,
                f"limit {short_amount(limit, unit)}",
                "limit-figure",
            ),
        ]
    return items


def _curves(
    series: Sequence[Series], over: float, across: Scale, up: Scale
) -> list[Item]:
    lines: list[Item] = []
    marks: list[Item] = []
    for n, one in enumerate(series):
        ordered = sorted(one.points, key=lambda p: p.day)
        places = [
            (across.place(p.day.toordinal()), up.place(p.value / over)) for p in ordered
        ]
        if len(places) > 1:
            lines.append(Polyline(tuple(places), f"series-{n % LINES + 1}"))
        for point, (x, y) in zip(ordered, places, strict=True):
            marks += _point(point, x, y, over, up)
    return [*lines, *marks]


def _point(point: Seen, x: float, y: float, over: float, up: Scale) -> list[Item]:
    items: list[Item] = []
    line = f"{point.verdict}-line"
    if point.over_range or point.under_range:
        way = -1 if point.over_range else 1
        tip = y + 15 * way
        items = [
            Line(x, y, x, tip, line),
            Polyline(((x - 4, tip - 4 * way), (x, tip), (x + 4, tip - 4 * way)), line),
        ]
    elif point.u:
        top = up.place((point.value + point.u) / over)
        low = point.value - point.u
        bottom = up.start if low <= 0 and up.logarithmic else up.place(low / over)
        items = [Line(x, top, x, bottom, line)]
        items += [Line(x - 3, e, x + 3, e, line) for e in (top, bottom)]
    return [*items, *verdict_mark(point.verdict, x, y, 4.5)]


def _names(
    series: Sequence[Series], over: float, across: Scale, up: Scale
) -> list[Item]:
    """Return each series' name at its last point, moved apart where they meet."""
    last = []
    for n, one in enumerate(series):
        end = max(one.points, key=lambda p: p.day)
        last.append((up.place(end.value / over), one.name, n))
    items: list[Item] = []
    below = -math.inf
    for y, name, n in sorted(last):
        below = max(y, below + 13)
        items += [
            Line(
                across.end + 2,
                below,
                across.end + 14,
                below,
                f"series-{n % LINES + 1}",
            ),
            Text(across.end + 18, below + 4, name, NAME_STYLE),
        ]
    return items


def _describe(series: Sequence[Series], unit: str) -> str:
    said = []
    for one in series:
        points = sorted(one.points, key=lambda p: p.day)
        values = ", ".join(
            f"{p.day.isoformat()} {'over ' if p.over_range else ''}"
            f"{shown_amount(p.value, unit)} {p.verdict}"
            for p in points
        )
        said.append(f"{one.name}: {values}")
    return f"{'. '.join(said)}."

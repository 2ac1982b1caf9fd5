"""A row of readings: in logarithms of time or of both, or over even steps."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from models.judging.quantities import said_unit
from models.judging.series import Series, Step
from models.judging.wording import plain
from webapp.drawing.fit import text_width
from webapp.drawing.scales import Scale, fit_scale
from webapp.drawing.shapes import Circle, Drawing, Item, Line, Polyline, Rect, Text

WIDTH, HEIGHT = 350.0, 200.0
LEFT, RIGHT, TOP, BOTTOM = 50.0, 14.0, 26.0, 36.0
ARROW = 14.0
TIMES = (15.0, 30.0, 60.0, 120.0, 300.0, 600.0)  # s: those that people speak of
STRONG = (60.0, 600.0)  # s: what the polarization index is made of
NAME_APART = 13.0
NAME_WIDE = 46.0  # of a mark: lines that are closer share a place for their names
LINES = 6  # series styles there are
ZOOM_ROOM, LEAST_ROOM = 0.3, 0.01  # about the values, of their span or of the largest
MOST_FINE = 1000.0  # times: a longer logarithmic scale has a tick a decade
MOST_MARKED = 40  # more readings are a record's: a line, and no symbol at each


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row to be drawn; *name* is written at its end where there are several.

    *marks* are steps with their names, drawn as lines across the curve; between the
    two of *band* it has to lie flat.
    """

    steps: Sequence[Step]
    name: str = ""
    marks: Mapping[str, float] = field(default_factory=dict)
    band: tuple[float, float] | None = None


def series_curve(
    series: Series,
    rows: Sequence[Row],
    unit: str,
    *,
    width: float = WIDTH,
    height: float = HEIGHT,
) -> Drawing | None:
    """Return the curves of *rows*, whose values are in *unit*.

    None where no row has two readings to join.
    """
    timed = series.step_unit == "s"
    log = timed or series.scale == "log"
    drawn = [(row, _places(row.steps, log=log)) for row in rows]
    kept = [(row, places) for row, places in drawn if len(places) > 1]
    if not kept:
        return None
    named = max((text_width(row.name, "figure") for row, _ in kept), default=0.0)
    right = RIGHT + (named + 12 if named else 0.0)
    points = [place for _, places in kept for place in places]
    across = _across([at for at, _ in points], width - right, log=log)
    up = _up([value for _, value in points], height, series, log=log)
    lines: list[Item] = []
    for n, (row, places) in enumerate(kept):
        lines += _row(row, places, n, across, up, single=len(kept) == 1)
    return Drawing(
        width=width,
        height=height,
        kind="series-curve",
        title=series.title,
        description=_describe(series, [row for row, _ in kept], unit),
        items=[
            *(_band(row.band, across, up) for row, _ in kept if row.band),
            *_grid(series, across, up, unit),
            *([] if series.name != "leakage" else [_proportion(points, across, up)]),
            *lines,
            *(item for row, _ in kept for item in _marks(row.marks, across, up)),
            *_names(kept, across, up),
        ],
    )


def time_words(seconds: float) -> str:
    """Return a time as people say it: 45 s, 1 min."""
    if seconds < 60 or seconds % 60:
        return f"{plain(seconds)} s"
    return f"{plain(seconds / 60)} min"


def step_words(series: Series, step: Step) -> str:
    """Return where a step lies: 30 s, 10 min, 2.5 kV."""
    if series.step_unit == "s":
        return time_words(step.at)
    return f"{plain(step.at)} {series.step_unit}"


def _places(steps: Sequence[Step], *, log: bool) -> list[tuple[float, float]]:
    """Return what has a place: nothing at 0 on a logarithmic scale."""
    places = [(step.at, step.value.bound) for step in steps]
    return [place for place in places if min(place) > 0 or not log]


def _across(steps: Sequence[float], end: float, *, log: bool) -> Scale:
    if log:
        return fit_scale(
            min(steps) / 1.25, max(steps) * 1.25, LEFT, end, logarithmic=True
        )
    return fit_scale(0.0, max(steps) * 1.08, LEFT, end)


def _up(values: Sequence[float], height: float, series: Series, *, log: bool) -> Scale:
    high, bottom = max(values), height - BOTTOM
    if log:
        return fit_scale(min(values) / 1.8, high * 1.8, bottom, TOP, logarithmic=True)
    if series.zoomed:
        room = (high - min(values)) * ZOOM_ROOM or abs(high) * LEAST_ROOM or 1.0
        return fit_scale(min(values) - room, high + room, bottom, TOP)
    low = min(0.0, min(values) * 1.2)
    return fit_scale(low, max(high, 0.0) * 1.2 or 1.0, bottom, TOP)


def _grid(series: Series, across: Scale, up: Scale, unit: str) -> list[Item]:
    timed = series.step_unit == "s"
    if timed:
        ticks = [(at, time_words(at)) for at in TIMES if across.holds(at)]
    elif across.logarithmic:
        ticks = [(at, plain(round(at, 12))) for at in _fine(across)]
    else:
        ticks = [(at, plain(round(at, 12))) for at in across.ticks(5)]
    items: list[Item] = []
    for at, words in ticks:
        x = across.place(at)
        style = "grid-strong" if timed and at in STRONG else "grid"
        items += [
            Line(x, up.start, x, up.end, style),
            Text(x, up.start + 14, words, "figure", "middle"),
        ]
    for value in _fine(up):
        y = up.place(value)
        items += [
            Line(across.start, y, across.end, y, "grid"),
            Text(across.start - 6, y + 4, plain(round(value, 12)), "figure", "end"),
        ]
    corner = ((across.start, up.end), (across.start, up.start), (across.end, up.start))
    unit_words = f"{series.step_label}, {series.step_unit}"
    below = "time, logarithmic" if timed else unit_words
    if series.scale == "log":
        below += ", both logarithmic"
    return [
        *items,
        Polyline(corner, "axis"),
        Text(8, 14, said_unit(unit), "label"),
        Text(across.end, up.start + BOTTOM - 4, below, "label", "end"),
    ]


def _fine(scale: Scale) -> list[float]:
    """Return a linear scale's ticks; else 1, 2 and 5 of each decade, 1 of many."""
    if not scale.logarithmic:
        return scale.ticks(5)
    each = (1,) if scale.high / scale.low > MOST_FINE else (1, 2, 5)
    fine = [float(f"{m}e{e}") for e in range(-12, 13) for m in each]
    return [value for value in fine if scale.holds(value)]


def _proportion(
    points: Sequence[tuple[float, float]], across: Scale, up: Scale
) -> Line:
    """Return the current that would grow as the voltage does, from the first step."""
    at, value = points[0]
    end = max(step for step, _ in points)
    slope = value / at
    top = slope * end
    if top > up.high:
        end, top = up.high / slope, up.high
    return Line(
        across.place(0.0),
        up.place(0.0),
        across.place(end),
        up.place(top),
        "series-3",
    )


def _row(
    row: Row,
    places: Sequence[tuple[float, float]],
    n: int,
    across: Scale,
    up: Scale,
    *,
    single: bool,
) -> list[Item]:
    joined = tuple((across.place(at), up.place(value)) for at, value in places)
    style = "curve" if single else f"series-{n % LINES + 1}"
    items: list[Item] = [Polyline(joined, style)]
    if len(places) > MOST_MARKED:
        return items
    drawn = [step for step in row.steps if (step.at, step.value.bound) in places]
    for step, (x, y) in zip(drawn, joined, strict=True):
        items.append(Circle(x, y, 3.2, "symbol-solid"))
        if not step.value.exact:
            items += _arrow(x, y, -1 if step.value.high is None else 1)
    return items


def _names(
    kept: Sequence[tuple[Row, Sequence[tuple[float, float]]]], across: Scale, up: Scale
) -> list[Item]:
    """Return each row's name at its last reading, moved apart where they meet."""
    last = sorted(
        (up.place(places[-1][1]), n, row.name)
        for n, (row, places) in enumerate(kept)
        if row.name
    )
    items: list[Item] = []
    below = -math.inf
    for y, n, name in last:
        below = max(y, below + NAME_APART)
        x = across.end + 4
        style = "curve" if len(kept) == 1 else f"series-{n % LINES + 1}"
        items += [
            Line(x, below, x + 12, below, style),
            Text(x + 16, below + 4, name, "figure"),
        ]
    return items


def _arrow(x: float, y: float, way: int) -> list[Item]:
    """Return what says that the true value lies beyond the mark."""
    tip = y + ARROW * way
    back = tip - 4 * way
    return [
        Line(x, y, x, tip, "axis"),
        Polyline(((x - 4, back), (x, tip), (x + 4, back)), "axis"),
    ]


def _describe(series: Series, rows: Sequence[Row], unit: str) -> str:
    said = []
    for row in rows:
        steps = [
            f"{step_words(series, s)}: {s.text} {said_unit(unit)}"
            for s in _told(row.steps)
        ]
        steps += [
            f"{mark} at {plain(round(at, 2))} {series.step_unit}"
            for mark, at in row.marks.items()
        ]
        told = "; ".join(steps)
        said.append(f"{row.name}: {told}" if row.name else told)
    return f"{'. '.join(said)}."


def _told(steps: Sequence[Step]) -> Sequence[Step]:
    """Return the steps that are told one by one: of a record its ends and its peak."""
    if len(steps) <= MOST_MARKED:
        return steps
    return [steps[0], max(steps, key=lambda step: step.value.bound), steps[-1]]


def _band(band: tuple[float, float], across: Scale, up: Scale) -> Rect:
    """Return the part of the row that has to lie flat."""
    start, end = map(across.place, band)
    return Rect(start, up.end, end - start, up.start - up.end, "band")


def _marks(marks: Mapping[str, float], across: Scale, up: Scale) -> Iterator[Item]:
    """Yield a line at each mark.

    Names of marks that lie close together stand outside them, in their order.
    """
    middle = (across.start + across.end) / 2
    for close in _clusters(sorted((across.place(at), m) for m, at in marks.items())):
        right = close[0][0] > middle
        beside, anchor = (
            (close[0][0] - 3, "end") if right else (close[-1][0] + 3, "start")
        )
        for n, (x, mark) in enumerate(close):
            yield Line(x, up.start, x, up.end, "axis")
            yield Text(beside, up.end + 10 + NAME_APART * n, mark, "figure", anchor)


def _clusters(placed: Sequence[tuple[float, str]]) -> list[list[tuple[float, str]]]:
    """Return marks, left to right, in lists of those too close for a name between."""
    found: list[list[tuple[float, str]]] = []
    for one in placed:
        if found and one[0] - found[-1][-1][0] < NAME_WIDE:
            found[-1].append(one)
        else:
            found.append([one])
    return found

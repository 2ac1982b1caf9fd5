"""A relay's time-current curve on logarithmic axes, with what was measured."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from models.judging.curves import operating_time
from models.judging.wording import figure, plain
from webapp.drawing.figures import number
from webapp.drawing.fit import text_width
from webapp.drawing.marks import verdict_mark
from webapp.drawing.scales import Scale
from webapp.drawing.shapes import Drawing, Item, Line, Polyline, Rect, Text

WIDTH, HEIGHT = 420.0, 260.0
LEFT, RIGHT, TOP, BOTTOM = 46.0, 16.0, 14.0, 40.0
MARGIN = 1.7  # the axis goes on beyond the last point, for its label
STEPS = 96  # points of the curve
FIRST_MULTIPLE = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Timed:
    """A measured operating time; *seconds* None: it did not operate."""

    label: str
    applied_a: float
    seconds: float | None
    verdict: str


@dataclass(frozen=True, slots=True)
class _Curve:
    constants: Mapping[str, Any]
    pickup_a: float
    dial: float
    pct: float
    fixed_s: float
    start: float

    def seconds(self, multiple: float) -> float:
        return operating_time(self.constants, self.dial, multiple)

    def band(self, multiple: float) -> tuple[float, float]:
        expected = self.seconds(multiple)
        tolerance = max(self.pct / 100 * expected, self.fixed_s)
        return max(0.0, expected - tolerance), expected + tolerance


def time_current(
    rule: Mapping[str, Any],
    timed: Sequence[Timed],
    *,
    title: str = "Time-current curve",
    width: float = WIDTH,
    height: float = HEIGHT,
) -> Drawing | None:
    """Return the curve of *rule*'s operating-time bound; None if it has none."""
    bound = next((b for b in rule["bounds"] if b["kind"] == "operating_time"), None)
    if bound is None:
        return None
    curve = _read(bound)
    across, up = _axes(curve, timed, width, height)
    return Drawing(
        width=width,
        height=height,
        kind="curve",
        title=title,
        description=_describe(curve, timed),
        items=[
            *_grid(curve, across, up),
            *_band(curve, across, up),
            *_points(curve, timed, across, up),
        ],
    )


def _read(bound: Mapping[str, Any]) -> _Curve:
    constants = dict(bound["curve"])
    for name in ("a", "b", "p"):
        constants[name] = number(constants, name) or 0.0

    def wanted(name: str) -> float:
        return number(bound, name) or 0.0

    return _Curve(
        constants,
        wanted("pickup_a"),
        wanted("time_dial"),
        wanted("tolerance_pct"),
        wanted("tolerance_s"),
        wanted("start_multiple"),
    )


def _axes(
    curve: _Curve, timed: Sequence[Timed], width: float, height: float
) -> tuple[Scale, Scale]:
    multiples = [one.applied_a / curve.pickup_a for one in timed]
    right = max([10.0, *multiples]) * MARGIN
    left = min([FIRST_MULTIPLE, *multiples]) * 0.9
    times = [one.seconds for one in timed if one.seconds]
    times += [curve.seconds(curve.start), *curve.band(right)]
    low = min(t for t in times if t > 0)
    return (
        Scale(left, right, LEFT, width - RIGHT, logarithmic=True),
        Scale(low / 1.6, max(times) * 1.6, height - BOTTOM, TOP, logarithmic=True),
    )


def _grid(curve: _Curve, across: Scale, up: Scale) -> list[Item]:
    items: list[Item] = []
    for value, strong in _log_grid(across):
        x = across.place(value)
        style = "grid-strong" if strong else "grid"
        items.append(Line(x, up.start, x, up.end, style))
    for value, strong in _log_grid(up):
        y = up.place(value)
        items.append(
            Line(across.start, y, across.end, y, "grid-strong" if strong else "grid")
        )
    items += _across_words(curve, across, up.start)
    items += _up_words(up)
    frame = Rect(
        across.start, up.end, across.end - across.start, up.start - up.end, "scale"
    )
    return [*items, frame]


def _log_grid(scale: Scale) -> list[tuple[float, bool]]:
    """Return 1 to 9 times each power of ten on the scale, decades marked."""
    first, last = math.floor(math.log10(scale.low)), math.ceil(math.log10(scale.high))
    return [
        (m * 10.0**e, m == 1)
        for e in range(first, last + 1)
        for m in range(1, 10)
        if scale.holds(m * 10.0**e)
    ]


def _across_words(curve: _Curve, across: Scale, y: float) -> list[Item]:
    items: list[Item] = []
    free_from = 0.0
    for value, _ in _log_grid(across):
        if value < 1:
            continue
        if value > 10 and round(value) not in (15, 20, 30, 40, 50, 100):
            continue
        said, x = plain(round(value, 6)), across.place(value)
        half = text_width(said, "figure") / 2
        if x - half < free_from:
            continue
        free_from = x + half + 4
        items.append(Text(x, y + 12, said, "figure", "middle"))
    words = f"multiple of pickup {plain(curve.pickup_a)} A"
    middle = (across.start + across.end) / 2
    return [*items, Text(middle, y + 29, words, "label", "middle")]


def _up_words(up: Scale) -> list[Item]:
    items: list[Item] = []
    free_below = up.start + 20
    narrow = up.high / up.low < 10  # no decade in it: every step gets its figure
    for value, strong in _log_grid(up):
        y = up.place(value)
        leading = round(value / 10 ** math.floor(math.log10(value)))
        if not (strong or narrow or leading in (2, 5)) or free_below - y < 11:
            continue
        free_below = y
        said = plain(round(value, 9))
        items.append(Text(LEFT - 5, y + 3, f"{said} s", "figure", "end"))
    return items


def _band(curve: _Curve, across: Scale, up: Scale) -> list[Item]:
    first = max(curve.start, across.low)
    ratio = (across.high / first) ** (1 / STEPS)
    multiples = [first * ratio**n for n in range(STEPS + 1)]
    lower = [(across.place(m), up.place(curve.band(m)[0])) for m in multiples]
    upper = [(across.place(m), up.place(curve.band(m)[1])) for m in multiples]
    middle = [(across.place(m), up.place(curve.seconds(m))) for m in multiples]
    pickup = across.place(1.0)
    return [
        Polyline((*lower, *reversed(upper)), "band", closed=True),
        Polyline(tuple(lower), "band-edge"),
        Polyline(tuple(upper), "band-edge"),
        Polyline(tuple(middle), "curve"),
        Line(pickup, up.start, pickup, up.end, "limit-line"),
        Text(pickup + 4, up.start - 5, "pickup", "figure"),
    ]


def _points(
    curve: _Curve, timed: Sequence[Timed], across: Scale, up: Scale
) -> list[Item]:
    items: list[Item] = []
    for one in timed:
        x = across.place(one.applied_a / curve.pickup_a)
        if one.seconds:
            y, said = up.place(one.seconds), f"{figure(one.seconds)} s"
        else:
            y, said = up.end + 20, "did not operate"
            items += _upwards(x, y, up.end + 3, f"{one.verdict}-line")
        items += verdict_mark(one.verdict, x, y, 4.5)
        items.append(Text(x + 8, y - 5, said, "figure"))
    return items


def _upwards(x: float, y: float, tip: float, style: str) -> list[Item]:
    """Return the arrow that says: not within the times drawn, if ever."""
    head = ((x - 3.5, tip + 4), (x, tip), (x + 3.5, tip + 4))
    return [Line(x, y, x, tip, style), Polyline(head, style)]


def _describe(curve: _Curve, timed: Sequence[Timed]) -> str:
    said = [
        f"{one.label}: {figure(one.seconds)} s, {one.verdict}"
        if one.seconds
        else f"{one.label}: did not operate, {one.verdict}"
        for one in timed
    ]
    return (
        f"{curve.constants['label']}, pickup {plain(curve.pickup_a)} A, time dial "
        f"{plain(curve.dial)}, tolerance {plain(curve.pct)} % or "
        f"{plain(curve.fixed_s)} s. {'. '.join(said)}."
    )

"""A relay's time-current curve on logarithmic axes, with what was measured."""

import math
from collections.abc import Mapping, Sequence
from typing import Any

from models.judging.curve_fit import CurveFit
from models.judging.curves import operating_time
from models.judging.timing_band import band_at, expected_time
from models.judging.timing_options import MEASURED
from models.judging.wording import figure, plain
from webapp.drawing.fit import text_width
from webapp.drawing.marks import verdict_mark
from webapp.drawing.scales import Scale, fit_scale
from webapp.drawing.shapes import Drawing, Item, Line, Polyline, Rect, Text
from webapp.drawing.timed import Timed, decided_on, fit_of, timing_bound

WIDTH, HEIGHT = 420.0, 260.0
LEFT, RIGHT, TOP, BOTTOM = 46.0, 16.0, 14.0, 40.0
MARGIN = 1.7  # the axis goes on beyond the last point, for its label
STEPS = 96  # points of the curve
FIRST_MULTIPLE = 1.0
# No relay is set or timed beyond these; what was typed amiss lies at the edge.
LEAST_MULTIPLE, MOST_MULTIPLE = 1e-3, 1e4
BESIDE = 1.0 + 1e-6  # of a multiple: just beyond a step

Bound = Mapping[str, Any]


def time_current(
    rule: Mapping[str, Any],
    timed: Sequence[Timed],
    *,
    title: str = "Time-current curve",
    width: float = WIDTH,
    height: float = HEIGHT,
) -> Drawing | None:
    """Return the curve of *rule*'s operating-time bound; None if it has none."""
    bound = timing_bound(rule)
    if bound is None:
        return None
    found = fit_of(bound, timed)
    fit = found if isinstance(found, CurveFit) else None
    set_a, bound = bound["pickup_a"], decided_on(bound, timed)
    across, up = _axes(bound, timed, width, height)
    return Drawing(
        width=width,
        height=height,
        kind="curve",
        title=title,
        description=_describe(bound, timed),
        items=[
            *_grid(bound, across, up),
            *_band(bound, across, up),
            *(_fitted(bound, fit, set_a, across, up) if fit else ()),
            *_points(bound, timed, across, up),
        ],
    )


def _axes(
    bound: Bound, timed: Sequence[Timed], width: float, height: float
) -> tuple[Scale, Scale]:
    multiples = [one.applied_a / bound["pickup_a"] for one in timed]
    right = min(max([10.0, *multiples]) * MARGIN, MOST_MULTIPLE)
    left = max(min([FIRST_MULTIPLE, *multiples]) * 0.9, LEAST_MULTIPLE)
    times = [one.seconds for one in timed if one.seconds]
    first = max(bound["start_multiple"], _begins(bound))
    for multiple in (first, right):
        held = band_at(bound, multiple)
        times += [held.low, held.expected, held.high] if held else []
    times = [time for time in times if 0 < time < math.inf]
    low = min(times)
    return (
        fit_scale(left, right, LEFT, width - RIGHT, logarithmic=True),
        fit_scale(low / 1.6, max(times) * 1.6, height - BOTTOM, TOP, logarithmic=True),
    )


def _grid(bound: Bound, across: Scale, up: Scale) -> list[Item]:
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
    items += _across_words(bound, across, up.start)
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


def _across_words(bound: Bound, across: Scale, y: float) -> list[Item]:
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
    name = "measured pickup" if bound.get("against") == MEASURED else "pickup"
    words = f"multiple of {name} {plain(bound['pickup_a'])} A"
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


def _begins(bound: Bound) -> float:
    """Return the multiple from which on there is a band."""
    bands = bound.get("bands")
    return float(bands[0]["from"]) if bands else FIRST_MULTIPLE


def _band(bound: Bound, across: Scale, up: Scale) -> list[Item]:
    """Return the band and the curve, in pieces where the tolerance makes a step."""
    first = max(bound["start_multiple"], _begins(bound), across.low)
    lower: list[tuple[float, float]] = []
    upper: list[tuple[float, float]] = []
    for multiple in _multiples(bound, first, across.high):
        held = band_at(bound, multiple)
        if held is not None:
            x = across.place(multiple)
            lower.append((x, up.place(held.low)))
            upper.append((x, up.place(held.high)))
    middle = [
        (across.place(m), up.place(expected_time(bound, m)))
        for m in _multiples(bound, first, across.high)
    ]
    pickup = across.place(1.0)
    return [
        Polyline((*lower, *reversed(upper)), "band", closed=True),
        Polyline(tuple(lower), "band-edge"),
        Polyline(tuple(upper), "band-edge"),
        Polyline(tuple(middle), "curve"),
        Line(pickup, up.start, pickup, up.end, "limit-line"),
        Text(pickup + 4, up.start - 5, "pickup", "figure"),
    ]


def _multiples(bound: Bound, first: float, last: float) -> list[float]:
    """Return where the curve is worked out, both sides of each step among them."""
    ratio = (last / first) ** (1 / STEPS)
    found = [first * ratio**n for n in range(STEPS + 1)]
    steps = [band.get("to") for band in bound.get("bands") or ()]
    for step in (*steps, bound.get("ceiling_multiple")):
        if step is not None and first < step < last:
            found += [step, step * BESIDE]
    return sorted(found)


def _fitted(
    bound: Bound, fit: CurveFit, set_a: float, across: Scale, up: Scale
) -> list[Item]:
    """Return the curve that the times fit, as far as they reach."""
    multiples = [timing.multiple for timing in fit.timings]
    first, last = min(multiples), max(multiples)
    ratio = (last / first) ** (1 / STEPS)
    places = [
        (
            across.place(multiple * set_a / bound["pickup_a"]),
            up.place(operating_time(bound["curve"], fit.dial, multiple / fit.pickup)),
        )
        for multiple in (first * ratio**n for n in range(STEPS + 1))
    ]
    x, y = places[-1]
    return [
        Polyline(tuple(places), "fitted"),
        Text(x - 4, y + 24, "fitted", "figure", "end"),
    ]


def _points(
    bound: Bound, timed: Sequence[Timed], across: Scale, up: Scale
) -> list[Item]:
    items: list[Item] = []
    for one in timed:
        x = across.place(one.applied_a / bound["pickup_a"])
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


def _describe(bound: Bound, timed: Sequence[Timed]) -> str:
    said = [
        f"{one.label}: {figure(one.seconds)} s, {one.verdict}"
        if one.seconds
        else f"{one.label}: did not operate, {one.verdict}"
        for one in timed
    ]
    return (
        f"{bound['curve']['label']}, pickup {plain(bound['pickup_a'])} A, time dial "
        f"{plain(bound['time_dial'])}, tolerance {plain(bound['tolerance_pct'])} % or "
        f"{plain(bound['tolerance_s'])} s. {'. '.join(said)}."
    )

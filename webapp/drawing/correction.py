"""Correction factors over the temperature: printed rows, joined log-linearly.

Nothing is drawn beyond the first and the last row, as nothing is corrected there.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from models.judging.wording import plain
from webapp.drawing.fit import text_width
from webapp.drawing.scales import Scale, fit_scale, tick_words
from webapp.drawing.shapes import Circle, Drawing, Item, Line, Polyline, Text

WIDTH, HEIGHT = 640.0, 320.0
LEFT, TOP, BOTTOM = 56.0, 28.0, 46.0
NAME_STYLE = "label"
LINES = 6  # series styles there are
APART = 15.0  # least distance between two names


@dataclass(frozen=True, slots=True, kw_only=True)
class Factors:
    """One column: its name, and its rows as (temperature in degC, factor)."""

    name: str
    points: Sequence[tuple[float, float]]


def correction(
    columns: Sequence[Factors],
    *,
    reference_c: float | None = None,
    title: str = "Correction factors",
    width: float = WIDTH,
    height: float = HEIGHT,
) -> Drawing | None:
    """Return the factors of *columns*; None when there is nothing to draw.

    The scale of the factors is logarithmic, so that rows joined by straight lines
    are joined as `models.judging.corrections` interpolates. The reference
    temperature is drawn where it lies among the rows.
    """
    kept = [
        Factors(name=one.name, points=sorted(p for p in one.points if p[1] > 0))
        for one in columns
    ]
    kept = [one for one in kept if len(one.points) > 1]
    if not kept:
        return None
    right = 24 + max(text_width(one.name, NAME_STYLE) for one in kept)
    across = _across(kept, width - right)
    up = _up(kept, height)
    return Drawing(
        width=width,
        height=height,
        kind="correction",
        title=title,
        description=_describe(kept, reference_c),
        items=[
            *_grid(across, up),
            *_reference(reference_c, across, up),
            *_lines(kept, across, up),
            *_names(kept, across, up),
        ],
    )


def _across(columns: Sequence[Factors], end: float) -> Scale:
    temperatures = [t for one in columns for t, _ in one.points]
    low, high = min(temperatures), max(temperatures)
    room = (high - low) * 0.03
    return fit_scale(low - room, high + room, LEFT, end)


def _up(columns: Sequence[Factors], height: float) -> Scale:
    factors = [f for one in columns for _, f in one.points]
    low, high = min(factors) / 1.3, max(factors) * 1.3
    return fit_scale(low, high, height - BOTTOM, TOP, logarithmic=True)


def _grid(across: Scale, up: Scale) -> list[Item]:
    items: list[Item] = []
    values = up.ticks(5)
    for value, said in zip(values, tick_words(values), strict=True):
        y = up.place(value)
        items += [
            Line(across.start, y, across.end, y, "grid"),
            Text(across.start - 6, y + 3, said, "figure", "end"),
        ]
    temperatures = across.ticks(12)
    for value, said in zip(temperatures, tick_words(temperatures), strict=True):
        x = across.place(value)
        words = said.replace("-", "−")
        items += [
            Line(x, up.start, x, up.start + 4, "tick"),
            Text(x, up.start + 15, words, "figure", "middle"),
        ]
    corner = ((across.start, up.end), (across.start, up.start), (across.end, up.start))
    middle = (across.start + across.end) / 2
    return [
        *items,
        Polyline(corner, "axis"),
        Text(8, 14, "factor, logarithmic", "label"),
        Text(middle, up.start + 33, "temperature, °C", "label", "middle"),
    ]


def _reference(reference_c: float | None, across: Scale, up: Scale) -> list[Item]:
    """Return the lines that cross where the factor is 1."""
    if reference_c is None or not across.holds(reference_c) or not up.holds(1.0):
        return []
    x, y = across.place(reference_c), up.place(1.0)
    said = f"reference {plain(reference_c)} °C"
    return [
        Line(across.start, y, across.end, y, "limit-line"),
        Line(x, up.start, x, up.end, "limit-line"),
        Text(x + 5, up.end + 9, said, "limit-figure"),
    ]


def _lines(columns: Sequence[Factors], across: Scale, up: Scale) -> list[Item]:
    lines: list[Item] = []
    marks: list[Item] = []
    for n, one in enumerate(columns):
        places = tuple((across.place(t), up.place(f)) for t, f in one.points)
        lines.append(Polyline(places, f"series-{n % LINES + 1}"))
        marks += [Circle(x, y, 2.2, "symbol-solid") for x, y in places]
    return [*lines, *marks]


def _names(columns: Sequence[Factors], across: Scale, up: Scale) -> list[Item]:
    """Return each column's name at its last row, moved apart where they meet."""
    ends = sorted((up.place(c.points[-1][1]), c.name, n) for n, c in enumerate(columns))
    items: list[Item] = []
    below = -math.inf
    for y, name, n in ends:
        below = max(y, below + APART)
        x = across.end + 2
        items += [
            Line(x, below, x + 12, below, f"series-{n % LINES + 1}"),
            Text(x + 16, below + 4, name, NAME_STYLE),
        ]
    return items


def _describe(columns: Sequence[Factors], reference_c: float | None) -> str:
    said = []
    for one in columns:
        (first, low), (last, high) = one.points[0], one.points[-1]
        said.append(
            f"{one.name}: {len(one.points)} rows, from {plain(low)} at {plain(first)} "
            f"°C to {plain(high)} at {plain(last)} °C."
        )
    if reference_c is not None:
        said.append(f"The factor is 1 at {plain(reference_c)} °C.")
    return " ".join(said)

"""Inverse curves beside each other: time over the multiple, on two log scales."""

import math
from collections.abc import Mapping, Sequence
from typing import Any

from models.judging.curves import operating_time
from models.judging.wording import figure, plain
from webapp.drawing.fit import text_width
from webapp.drawing.scales import Scale, fit_scale
from webapp.drawing.shapes import Drawing, Item, Line, Polyline, Rect, Text

WIDTH, HEIGHT = 640.0, 380.0
LEFT, TOP, BOTTOM = 56.0, 26.0, 46.0
FIRST, LAST = 1.5, 20.0  # multiples of pickup drawn
STEPS = 64
LINES = 6  # series styles there are
APART = 15.0  # least distance between two names
NAME_STYLE = "label"
SAID = (1.5, 2, 3, 4, 5, 6, 8, 10, 15, 20)

Curve = Mapping[str, Any]


def curve_family(
    curves: Sequence[Curve],
    *,
    dial: float = 1.0,
    title: str = "Time-current curves",
    width: float = WIDTH,
    height: float = HEIGHT,
) -> Drawing | None:
    """Return the inverse ones of *curves* at one time dial; None if there are none.

    A curve is as in a rule: `label`, `form`, `a`, `b`, `p`.
    """
    kept = [curve for curve in curves if curve["form"] == "inverse"]
    if not kept:
        return None
    right = 40 + max(text_width(c["label"], NAME_STYLE) for c in kept)
    across = fit_scale(FIRST, LAST, LEFT, width - right, logarithmic=True)
    times = [operating_time(c, dial, m) for c in kept for m in (FIRST, LAST)]
    up = fit_scale(
        min(times) / 1.3, max(times) * 1.3, height - BOTTOM, TOP, logarithmic=True
    )
    return Drawing(
        width=width,
        height=height,
        kind="curve-family",
        title=title,
        description=_describe(kept, dial),
        items=[
            *_grid(across, up),
            *(_line(c, n, dial, across, up) for n, c in enumerate(kept)),
            *_names(kept, dial, across, up),
            Text(8, 14, f"operating time at time dial {plain(dial)}", "label"),
        ],
    )


def _grid(across: Scale, up: Scale) -> list[Item]:
    items: list[Item] = []
    for value in SAID:
        x = across.place(value)
        items += [
            Line(x, up.start, x, up.end, "grid"),
            Text(x, up.start + 14, plain(value), "figure", "middle"),
        ]
    for value in up.ticks(6):
        y = up.place(value)
        said = f"{plain(round(value, 9))} s"
        items += [
            Line(across.start, y, across.end, y, "grid-strong"),
            Text(across.start - 5, y + 3, said, "figure", "end"),
        ]
    middle = (across.start + across.end) / 2
    wide, high = across.end - across.start, up.start - up.end
    return [
        *items,
        Rect(across.start, up.end, wide, high, "scale"),
        Text(middle, up.start + 32, "multiple of pickup", "label", "middle"),
    ]


def _line(curve: Curve, n: int, dial: float, across: Scale, up: Scale) -> Item:
    ratio = (LAST / FIRST) ** (1 / STEPS)
    multiples = [FIRST * ratio**step for step in range(STEPS + 1)]
    places = tuple(
        (across.place(m), up.place(operating_time(curve, dial, m))) for m in multiples
    )
    return Polyline(places, _style(n))


def _names(
    curves: Sequence[Curve], dial: float, across: Scale, up: Scale
) -> list[Item]:
    """Return each curve's name at its end, led there where names were moved apart."""
    ends = sorted(
        (up.place(operating_time(c, dial, LAST)), c["label"], n)
        for n, c in enumerate(curves)
    )
    spread: list[float] = []
    for y, _, _ in ends:
        spread.append(max(y, (spread[-1] if spread else -math.inf) + APART))
    for place in range(len(spread) - 1, -1, -1):
        floor = up.start if place == len(spread) - 1 else spread[place + 1] - APART
        spread[place] = min(spread[place], floor)
    items: list[Item] = []
    for (y, name, n), at in zip(ends, spread, strict=True):
        x = across.end
        led = ((x + 2, y), (x + 12, at), (x + 26, at))
        items += [Polyline(led, _style(n)), Text(x + 30, at + 4, name, NAME_STYLE)]
    return items


def _style(n: int) -> str:
    return f"series-{n % LINES + 1}"


def _describe(curves: Sequence[Curve], dial: float) -> str:
    said = [
        f"{c['label']}: {figure(operating_time(c, dial, 2.0))} s at 2 times pickup, "
        f"{figure(operating_time(c, dial, 10.0))} s at 10"
        for c in curves
    ]
    return f"{'. '.join(said)}."

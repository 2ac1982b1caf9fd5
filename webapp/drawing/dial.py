"""Angles on a circle: where each has to lie, and where it was read."""

import math
from collections.abc import Mapping, Sequence
from typing import Any

from models.judging.wording import figure
from webapp.drawing.marks import lozenge
from webapp.drawing.seen import OnCard
from webapp.drawing.shapes import Circle, Drawing, Item, Line, Polyline, Text

WIDTH, HEIGHT = 420.0, 240.0
MARGIN = 34.0  # about the circle, for names
LEAST_ARC = 2.0  # degrees: a narrower sector would not be seen
STEP = 3.0  # degrees between the points of an arc
HALF = 6.0  # of a mark
AXES = (0, 90, 180, 270)


def dial(
    rule: Mapping[str, Any],
    read: Sequence[OnCard],
    *,
    title: str = "Angles",
    width: float = WIDTH,
    height: float = HEIGHT,
) -> Drawing | None:
    """Return angles beside what is expected of them; None of any other rule."""
    bounds = [b for b in rule["bounds"] if b["kind"] == "near_angle" and "of" not in b]
    shown = [one for one in read if one.value is not None]
    if not bounds or not shown:
        return None
    circle = _Circle(width / 2, height / 2, height / 2 - MARGIN)
    return Drawing(
        width=width,
        height=height,
        kind="dial",
        title=title,
        description="; ".join(_described(one) for one in shown),
        items=[
            Circle(circle.x, circle.y, circle.radius, "grid"),
            *(item for at in AXES for item in _axis(circle, at)),
            *(_sector(circle, one) for one in shown if one.low is not None),
            *(item for one in shown for item in _needle(circle, one)),
        ],
    )


class _Circle:
    """0 lies to the right; angles rise counterclockwise."""

    def __init__(self, x: float, y: float, radius: float) -> None:
        self.x, self.y, self.radius = x, y, radius

    def place(self, degrees: float, beyond: float = 0.0) -> tuple[float, float]:
        turn, radius = math.radians(degrees), self.radius + beyond
        return self.x + radius * math.cos(turn), self.y - radius * math.sin(turn)

    def spoke(self, degrees: float, style: str) -> Line:
        return Line(self.x, self.y, *self.place(degrees), style)

    def name(self, degrees: float, beyond: float, words: str, style: str) -> Text:
        x, y = self.place(degrees, beyond)
        side = "start" if x > self.x else "end"
        return Text(x, y + 4, words, style, "middle" if abs(x - self.x) < 20 else side)


def _axis(circle: _Circle, at: int) -> list[Item]:
    return [circle.spoke(at, "grid"), circle.name(at, 8, f"{at}°", "figure")]


def _sector(circle: _Circle, one: OnCard) -> Polyline:
    low, high = one.low or 0.0, one.high or 0.0
    wide = max(high - low, LEAST_ARC)
    first, parts = (low + high - wide) / 2, max(1, math.ceil(wide / STEP))
    arc = [circle.place(first + wide * n / parts) for n in range(parts + 1)]
    return Polyline(((circle.x, circle.y), *arc), "band", closed=True)


def _needle(circle: _Circle, one: OnCard) -> list[Item]:
    value = one.value or 0.0
    return [
        circle.spoke(value, "curve"),
        lozenge(*circle.place(value), HALF, f"{one.verdict}-mark"),
        circle.name(value, 22, one.label, "label"),
    ]


def _described(one: OnCard) -> str:
    wanted = ""
    if one.low is not None and one.high is not None:
        wanted = f", {figure(one.low)}° to {figure(one.high)}° wanted"
    return f"{one.label}: {figure(one.value or 0.0)}°{wanted}, {one.verdict}"

"""Rows of readings as a rule takes them: read once, and joined to a curve."""

import math
from collections.abc import Mapping, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Any

from models.errors import InputError
from models.judging.near import near
from models.judging.pchip import Pchip
from models.judging.series import SERIES, Step, parse_series

Points = Sequence[tuple[float, float]]


def row_of(conditions: Mapping[str, Any], name: str) -> Sequence[Step] | None:
    """Return the row in the condition *name*: None without one, empty if unreadable.

    Rows are checked where they are entered.
    """
    text = conditions.get(name)
    return None if text is None else _read(name, str(text))


@lru_cache(maxsize=256)
def _read(name: str, text: str) -> Sequence[Step]:
    try:
        return parse_series(name, text)
    except InputError:
        return ()


def points_of(name: str, steps: Sequence[Step]) -> list[tuple[float, float]]:
    """Return what has a place on a curve of this kind: no bounds, no logarithm of 0."""
    points = [(step.at, step.value.bound) for step in steps if step.value.exact]
    return with_logarithms(points) if SERIES[name].scale == "log" else points


def with_logarithms(points: Points) -> list[tuple[float, float]]:
    """Return the points that both lie above 0."""
    return [point for point in points if min(point) > 0]


def log_curve(points: Points) -> Pchip | None:
    """Return the curve through the logarithms of points; None for fewer than two."""
    known = with_logarithms(points)
    if len(known) < 2:
        return None
    return Pchip([math.log(at) for at, _ in known], [math.log(v) for _, v in known])


def straight_at(steps: Sequence[Step], at: float) -> float | None:
    """Return the value at a place between two steps, joined straight; None beyond.

    None, too, where one of the two is only a bound.
    """
    for step in steps:
        if near(step.at, at):
            return step.value.bound if step.value.exact else None
    for before, after in pairwise(steps):
        if before.at < at < after.at:
            if not (before.value.exact and after.value.exact):
                return None
            share = (at - before.at) / (after.at - before.at)
            return before.value.bound + share * (after.value.bound - before.value.bound)
    return None

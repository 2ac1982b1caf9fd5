"""Angles in degrees: the shorter way between two; two quantities as a pointer."""

import math
from typing import Any

from models.judging.measured import Measured
from models.judging.parts import Part

TURN = 360.0


def wrapped(difference: Any, turn: float = TURN) -> Any:
    """Return a difference, or a column of them, the shorter way round.

    From minus half a turn to less than half.
    """
    return (difference + turn / 2) % turn - turn / 2


def angle_of(part: Part, y: Measured, x: Measured) -> Measured | None:
    """Return the angle of the pointer *x*, *y* from the direction of x, in degrees.

    U by the derivatives of atan2 (JCGM 100:2008, 5.1.2). None: a bound, or no pointer.
    """
    length = math.hypot(x.shown, y.shown)
    if not (x.exact and y.exact) or length == 0:
        return None
    shown = math.degrees(math.atan2(y.shown, x.shown))
    u = _both(x, y, y.shown / length, x.shown / length)
    expanded = None if u is None else math.degrees(u / length)
    return _exactly(shown, expanded, part, "deg")


def magnitude_of(part: Part, y: Measured, x: Measured) -> Measured | None:
    """Return the length of the pointer *x*, *y*: the root of the sum of squares."""
    length = math.hypot(x.shown, y.shown)
    if not (x.exact and y.exact) or length == 0:
        return None
    expanded = _both(x, y, x.shown / length, y.shown / length)
    return _exactly(length, expanded, part, y.unit)


def _both(x: Measured, y: Measured, by_x: float, by_y: float) -> float | None:
    if x.expanded is None and y.expanded is None:
        return None
    return math.hypot(by_x * (x.expanded or 0.0), by_y * (y.expanded or 0.0))


def _exactly(shown: float, expanded: float | None, part: Part, unit: str) -> Measured:
    said = str(part.get("unit", unit))
    return Measured(shown, shown, shown, expanded=expanded, unit=said, signed=True)

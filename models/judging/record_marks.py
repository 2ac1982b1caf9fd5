"""What stands out in a record of a breaker: a coil's marks, figures of its travel.

Both take rows of (at, value), at in ms; webapp/offline/record_marks.js finds the same.
How the marks are called is common practice; the shares are ours and move no verdict.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

Points = Sequence[tuple[float, float]]

START_SHARE = 0.05  # of the greatest current: from there the coil is energized
TURN_SHARE = 0.03  # a dip or rise below that share is noise
HELD_SHARE = 0.9  # of the current after the latch: below it the contact has opened
MARKS = ("start", "plunger", "latch", "contact")


def coil_marks(points: Points) -> dict[str, float]:
    """Return when each mark of MARKS lies, in ms; one that is not there is left out.

    The current rises from the start; it dips while the plunger moves, least when the
    plunger has reached the latch; it rises to what the coil holds, and falls when the
    breaker's contact opens.
    """
    greatest = max((value for _, value in points), default=0.0)
    if greatest <= 0:
        return {}
    found = {}
    start = _crossing(points, START_SHARE * greatest)
    if start is not None:
        found["start"] = start
    dip = _first_dip(points, TURN_SHARE * greatest)
    if dip is not None:
        found["plunger"], found["latch"] = dip
    contact = _held_until(points, found.get("latch", 0.0))
    if contact is not None:
        found["contact"] = contact
    return found


def _crossing(points: Points, level: float) -> float | None:
    """Return when a line through the points first reaches *level* from below."""
    before: tuple[float, float] | None = None
    for at, value in points:
        if value >= level:
            if before is None or value == before[1]:
                return at
            share = (level - before[1]) / (value - before[1])
            return before[0] + share * (at - before[0])
        before = (at, value)
    return None


def _first_dip(points: Points, turn: float) -> tuple[float, float] | None:
    """Return when the first peak is reached, and the least value after it.

    A peak counts where the value falls by *turn* from it, a least value where it rises
    by as much again: a fall without a rise is the end of the current.
    """
    high = low = points[0]
    peak: float | None = None
    for point in points:
        if peak is None:
            high = max(high, point, key=_value)
            if high[1] - point[1] >= turn:
                peak, low = high[0], point
        else:
            low = min(low, point, key=_value)
            if point[1] - low[1] >= turn:
                return peak, low[0]
    return None


def _value(point: tuple[float, float]) -> float:
    return point[1]


def _held_until(points: Points, after: float) -> float | None:
    """Return the last moment at which the current is held; None: it does not fall."""
    held = [(at, value) for at, value in points if at >= after]
    level = HELD_SHARE * max((value for _, value in held), default=0.0)
    last = max((at for at, value in held if value >= level), default=None)
    return None if last is None or last == points[-1][0] else last


@dataclass(frozen=True, slots=True, kw_only=True)
class Travel:
    """Stroke between the two rests, and how far beyond and back after it, in mm.

    *speed* is the mean over the zone in mm/ms, which is m/s; None without a zone, or
    where the contact does not pass through it.
    """

    stroke: float
    overtravel: float
    rebound: float
    speed: float | None


def travel_figures(points: Points, zone: tuple[float, float] | None) -> Travel | None:
    """Return what a record of the travel comes to; None where nothing moves.

    The first value is the rest before, the last the rest after. *zone* is from and to,
    in mm of travel from the first rest.
    """
    if len(points) < 2 or points[-1][1] == points[0][1]:
        return None
    way = 1.0 if points[-1][1] > points[0][1] else -1.0
    moved = [(at, way * (value - points[0][1])) for at, value in points]
    stroke = moved[-1][1]
    furthest = max(moved, key=_value)
    back = min(value for at, value in moved if at >= furthest[0])
    return Travel(
        stroke=stroke,
        overtravel=furthest[1] - stroke,
        rebound=max(0.0, stroke - back),
        speed=None if zone is None else _mean_speed(moved, zone),
    )


def _mean_speed(moved: Points, zone: tuple[float, float]) -> float | None:
    begins, ends = (_crossing(moved, end) for end in zone)
    if begins is None or ends is None or ends <= begins:
        return None
    return (zone[1] - zone[0]) / (ends - begins)


def marks_in_force(
    found: Mapping[str, float], conditions: Mapping[str, object]
) -> dict[str, float]:
    """Return the marks, those that a person set (`mark_start_ms`) before found ones."""
    said = {mark: conditions.get(f"mark_{mark}_ms", found.get(mark)) for mark in MARKS}
    return {mark: at for mark, at in said.items() if isinstance(at, int | float)}

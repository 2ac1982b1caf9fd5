"""What a point's reading is, of a curve that is kept with it."""

from collections.abc import Mapping, Sequence
from typing import Any

from models.judging.record_marks import coil_marks, travel_figures
from models.judging.series import COIL_CURRENT, Series, Step

ZONE = ("speed_zone_from_mm", "speed_zone_to_mm")


def read_from_curve(
    kind: Series,
    steps: Sequence[Step],
    given: Mapping[str, Any],
    plate: Mapping[str, Any],
) -> float | None:
    """Return the reading, in the unit of a card of this *kind*; None: it is not there.

    Of a coil its greatest current; of a travel what the point is for: stroke,
    overtravel, rebound, or in closing and opening the mean speed over the zone of the
    nameplate.
    """
    points = [(step.at, step.value.bound) for step in steps]
    if kind is COIL_CURRENT:
        return max(value for _, value in points)
    ends = [plate.get(name) for name in ZONE]
    zone = None if None in ends else (float(ends[0] or 0), float(ends[1] or 0))
    found = travel_figures(points, zone)
    if found is None:
        return None
    if "operation" in given:
        return found.speed
    return {
        "stroke": found.stroke,
        "overtravel": found.overtravel,
        "rebound": found.rebound,
    }.get(str(given.get("measure")))


def marks_of(kind: Series, steps: Sequence[Step]) -> dict[str, float]:
    """Return the marks of a curve in ms; a travel has none."""
    if kind is not COIL_CURRENT:
        return {}
    return coil_marks([(step.at, step.value.bound) for step in steps])

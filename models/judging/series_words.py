"""What a rule derives from a row of readings: a value at a step, a knee, a spread."""

import math
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from models.judging.knee import (
    NOT_REACHED,
    knee_by_rise,
    knee_by_slope,
    where_reached,
)
from models.judging.measured import Measured
from models.judging.near import finite
from models.judging.parts import Part
from models.judging.rows import log_curve, points_of, row_of, straight_at
from models.judging.series import SERIES, Step, ratio_of, value_at
from models.judging.state import State
from models.judging.values import Interval

# Why nothing can be worked out, beside those of a knee.
NO_ROW, UNREADABLE, FEW, NO_STEP = "no_row", "unreadable", "few", "no_step"
NO_DISTANCE = "no_distance"  # the condition is not known that a share is one of
Found = Interval | str


def derive_from_row(state: State, part: Part) -> Measured | str:
    """Return the value, or the word for why there is none.

    Where its unit is that of the reading it has the reading's relative U: the same
    instrument showed it. A spread, a ratio and a knee's current have none: a scale
    error cancels.
    """
    steps = row_of(state.conditions, part["series"])
    if not steps:
        return NO_ROW if steps is None else UNREADABLE
    found = WORDS[part["op"]](state, part, steps)
    if isinstance(found, str):
        return found
    signed = SERIES[part["series"]].signed or _is_difference(part)
    least = -math.inf if signed else 0.0
    return Measured(
        least if found.low is None else found.low,
        math.inf if found.high is None else found.high,
        found.bound,
        expanded=_expanded(state, part, steps, found.bound),
        unit=part.get("unit", ""),
        signed=signed,
    )


def _expanded(
    state: State, part: Part, steps: Sequence[Step], shown: float
) -> float | None:
    """Return U; of a difference as a root of squares (JCGM 100:2008, 5.1.2)."""
    read = state.as_read
    if read is None or read.relative is None or part.get("unit") != state.rule.unit:
        return None
    if not _is_difference(part):
        return read.relative * abs(shown)
    both = (value_at(steps, part["late"]), value_at(steps, part["early"]))
    return read.relative * math.hypot(*(one.bound for one in both if one))


def _is_difference(part: Part) -> bool:
    return bool(part["op"] == "series_between" and part["as"] == "difference")


def place_of(state: State, part: Part, share: float) -> float | None:
    """Return the step that a share of a condition is, such as of a probe's distance."""
    whole: Any = state.conditions.get(part["share_of"])
    return share * whole if finite(whole) else None


def _at(state: State, part: Part, steps: Sequence[Step]) -> Found:
    if "step" in part:
        return value_at(steps, part["step"]) or NO_STEP
    at = place_of(state, part, part["share"])
    if at is None:
        return NO_DISTANCE
    value = straight_at(steps, at)
    return NOT_REACHED if value is None else Interval(value, value)


def _between(state: State, part: Part, steps: Sequence[Step]) -> Found:
    late, early = value_at(steps, part["late"]), value_at(steps, part["early"])
    if late is None or early is None:
        return NO_STEP
    if part["as"] == "ratio":
        return ratio_of(steps, part["late"], part["early"]) or NOT_REACHED
    low, high = _minus(late.low, early.high), _minus(late.high, early.low)
    return NOT_REACHED if low is None and high is None else Interval(low, high)


def _minus(one: float | None, other: float | None) -> float | None:
    return None if one is None or other is None else one - other


def _spread(state: State, part: Part, steps: Sequence[Step]) -> Found:
    places = [place_of(state, part, share) for share in part["shares"]]
    known = [place for place in places if place is not None]
    if len(known) < len(places):
        return NO_DISTANCE
    values = [value for at in known if (value := straight_at(steps, at)) is not None]
    mean = sum(values) / len(values) if values else 0.0
    if len(values) < len(places) or mean <= 0:
        return NOT_REACHED
    spread = 100 * (max(values) - min(values)) / mean
    return Interval(spread, spread)


def knee_of(part: Part, steps: Sequence[Step]) -> Found:
    """Return the volts of the knee that a derived word, or a note, is for."""
    curve = log_curve(points_of(part["series"], steps))
    if curve is None:
        return FEW
    if part["by"] == "rise":
        return _volts(knee_by_rise(curve, part["step_pct"], part["value_pct"]))
    return _volts(knee_by_slope(curve, part["degrees"]))


def place_on_curve(part: Part, conditions: Mapping[str, Any]) -> float | None:
    """Return the step at which a knee, or a value reached, lies on its row."""
    steps = row_of(conditions, part["series"])
    if not steps:
        return None
    found = knee_of(part, steps) if part["op"] == "knee" else reached(part, steps)
    return None if isinstance(found, str) else found.bound


def reached(part: Part, steps: Sequence[Step]) -> Found:
    """Return the step at which the curve of a row reaches a value."""
    curve = log_curve(points_of(part["series"], steps))
    if curve is None:
        return FEW
    return _volts(where_reached(curve, math.log(part["value"])))


def _volts(found: float | str) -> Found:
    return found if isinstance(found, str) else Interval(*[math.exp(found)] * 2)


WORDS: Mapping[str, Callable[[State, Part, Sequence[Step]], Found]] = {
    "series_at": _at,
    "series_where": lambda _, part, steps: reached(part, steps),
    "series_between": _between,
    "series_spread": _spread,
    "knee": lambda _, part, steps: knee_of(part, steps),
}

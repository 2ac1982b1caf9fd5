"""Between which times a relay may operate, by the options of its bound."""

import math
from collections.abc import Mapping
from typing import Any, NamedTuple

from models.judging.curves import operating_time
from models.judging.near import at_least

Bound = Mapping[str, Any]


class Band(NamedTuple):
    """Earliest, expected and latest time in seconds; the latest may be infinite."""

    low: float
    expected: float
    high: float


def expected_time(bound: Bound, multiple: float) -> float:
    """Return the time of the curve as set: flat above a ceiling, never below a minimum.

    *multiple* is of pickup; at or below 1 the time is infinite.
    """
    seconds = operating_time(
        bound["curve"], bound["time_dial"], counted(bound, multiple)
    )
    return max(seconds, bound.get("minimum_time_s") or 0.0)


def counted(bound: Bound, multiple: float) -> float:
    """Return the multiple that the curve is taken at."""
    ceiling = bound.get("ceiling_multiple")
    return multiple if ceiling is None else min(multiple, ceiling)


def assigned_band(bound: Bound, multiple: float) -> Mapping[str, Any] | None:
    """Return the assigned-error band that holds *multiple*; None: none does.

    At the border of two bands the first, which is the wider, holds.
    """
    for band in bound["bands"]:
        to = band.get("to")
        if at_least(multiple, band["from"]) and (to is None or at_least(to, multiple)):
            found: Mapping[str, Any] = band
            return found
    return None


def tolerance_pct(bound: Bound, multiple: float) -> float | None:
    """Return the tolerance at *multiple*, in percent; None where no band holds it."""
    pct: float = bound["tolerance_pct"]
    if bound.get("bands") is None:
        return pct
    band = assigned_band(bound, multiple)
    return None if band is None else pct * band["times"]


def seen(bound: Bound, multiple: Any) -> tuple[Any, Any]:
    """Return the least and the greatest multiple that the relay may see.

    With the pickup wrong by ep and the injected current by ei:
    M (1 - ei) / (1 + ep) and M (1 + ei) / (1 - ep). *multiple* may be a column.
    """
    pickup = (bound.get("pickup_error_pct") or 0.0) / 100
    current = (bound.get("current_error_pct") or 0.0) / 100
    return multiple * (1 - current) / (1 + pickup), multiple * (1 + current) / (
        1 - pickup
    )


def tolerance(bound: Bound, pct: float, seconds: float) -> float:
    """Return the greater of a share of *seconds* and the fixed part."""
    fixed_s: float = bound["tolerance_s"]
    return max(pct / 100 * seconds, fixed_s)


def widens(bound: Bound) -> bool:
    """Return whether an error of pickup or current is declared."""
    return bool(bound.get("pickup_error_pct") or bound.get("current_error_pct"))


def unwidened(bound: Bound) -> Bound:
    """Return the bound as it is once the pickup has been measured."""
    return {**bound, "pickup_error_pct": None, "current_error_pct": None}


def band_at(bound: Bound, multiple: float) -> Band | None:
    """Return the band at *multiple* of pickup; None where the bands say nothing.

    Worst case of pickup, current and time together:
    latest t(M_lo) + max(et t(M_lo), a), earliest t(M_hi) - max(et t(M_hi), a).
    """
    pct = tolerance_pct(bound, multiple)
    if pct is None:
        return None
    least, greatest = seen(bound, multiple)
    slow, fast = expected_time(bound, least), expected_time(bound, greatest)
    return Band(
        max(0.0, fast - tolerance(bound, pct, fast)),
        expected_time(bound, multiple),
        math.inf if math.isinf(slow) else slow + tolerance(bound, pct, slow),
    )

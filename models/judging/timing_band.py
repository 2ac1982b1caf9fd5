"""Between which times a relay may operate, by the options of its bound."""

import math
from collections.abc import Mapping
from typing import Any, NamedTuple

from models.judging.curves import operating_time
from models.judging.near import at_least

Bound = Mapping[str, Any]


class Band(NamedTuple):
    """Between which times a relay may operate at a multiple of its pickup.

    Times in seconds; those at *least*, the least multiple that the relay may see, may
    be infinite. *band* is the assigned-error band; None: there are none.
    """

    multiple: float
    band: Bound | None
    pct: float
    least: float
    most: float
    slow: float  # the time at the least multiple
    fast: float  # the time at the greatest
    expected: float
    low: float
    high: float

    def numbers(self) -> dict[str, Any]:
        """Return what the step `tolerance` carries beside its limits."""
        return {
            "multiple": self.multiple,
            "band": self.band,
            "pct": self.pct,
            "least": self.least,
            "most": self.most,
            "slow": self.slow,
            "fast": self.fast,
            "expected": self.expected,
        }


def expected_time(bound: Bound, multiple: float) -> float:
    """Return the time of the curve as set: flat above a ceiling, never below a minimum.

    *multiple* is of pickup; at or below 1 the time is infinite.
    """
    ceiling, least = bound.get("ceiling_multiple"), bound.get("minimum_time_s")
    if ceiling is not None and ceiling < multiple:
        multiple = ceiling
    seconds = operating_time(bound["curve"], bound["time_dial"], multiple)
    return seconds if least is None or least <= seconds else least


def counted(bound: Bound, multiple: float) -> float:
    """Return the multiple that the curve is taken at."""
    ceiling = bound.get("ceiling_multiple")
    return multiple if ceiling is None else min(multiple, ceiling)


def assigned_band(bound: Bound, multiple: float) -> Bound | None:
    """Return the assigned-error band that holds *multiple*; None: none does.

    At the border of two bands the first, which is the wider, holds.
    """
    for band in bound["bands"]:
        to = band.get("to")
        if at_least(multiple, band["from"]) and (to is None or at_least(to, multiple)):
            found: Bound = band
            return found
    return None


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


def unwidened(bound: Bound) -> Bound:
    """Return the bound as it is once the pickup has been measured."""
    return {**bound, "pickup_error_pct": None, "current_error_pct": None}


def band_at(bound: Bound, multiple: float) -> Band | None:
    """Return the band at *multiple* of pickup; None where the bands say nothing.

    Worst case of pickup, current and time together:
    latest t(M_lo) + max(et t(M_lo), a), earliest t(M_hi) - max(et t(M_hi), a).
    """
    pct, band = bound["tolerance_pct"], None
    if bound.get("bands") is not None:
        band = assigned_band(bound, multiple)
        if band is None:
            return None
        pct = pct * band["times"]
    expected = expected_time(bound, multiple)
    least, most = seen(bound, multiple)
    slow = expected if least == multiple else expected_time(bound, least)
    fast = expected if most == multiple else expected_time(bound, most)
    return Band(
        multiple=multiple,
        band=band,
        pct=pct,
        least=least,
        most=most,
        slow=slow,
        fast=fast,
        expected=expected,
        low=max(0.0, fast - tolerance(bound, pct, fast)),
        high=math.inf if math.isinf(slow) else slow + tolerance(bound, pct, slow),
    )

"""Corrections to the reference temperature."""

import math
from bisect import bisect_right
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache, partial
from typing import Any

REMEMBERED = 512  # temperatures; the rooms of a campaign have fewer
Correct = Callable[[float | None], float | None]


def corrector(correction: Mapping[str, Any]) -> Correct:
    """Return the correction as a function of the temperature that remembers."""
    if correction["by"] in ("none", "isochor"):  # `carry` knows the second
        return _uncorrected
    return lru_cache(maxsize=REMEMBERED)(partial(correction_factor, correction))


def _uncorrected(_temperature_c: float | None) -> float:
    return 1.0


def correction_factor(
    correction: Mapping[str, Any], temperature_c: float | None
) -> float | None:
    """Return the factor that brings a reading to the reference temperature.

    None where the correction is not defined: no temperature, or one beyond its ends.
    """
    by = correction["by"]
    if by == "none":
        return 1.0
    if temperature_c is None:
        return None
    if by == "metal":
        return _metal(correction, temperature_c)
    linear = correction.get("join") == "linear"
    return _from_table(correction["points"], temperature_c, linear=linear)


def _metal(correction: Mapping[str, Any], temperature_c: float) -> float | None:
    """Resistance of a metal: R20 = R (k + 20) / (k + T).

    Source: linear resistance law with the zero-resistance temperature -k
    (IEC 60028 for copper, 234.5 degC).
    """
    above: float = correction["k"] + temperature_c
    whole: float = correction["k"] + correction["reference_c"]
    return whole / above if above > 0 else None


def _temperature(point: Sequence[float]) -> float:
    return point[0]


def row_below(points: Sequence[Sequence[float]], temperature_c: float) -> int:
    """Return the place of the last point at or below a temperature; below 0: none."""
    return bisect_right(points, temperature_c, key=_temperature) - 1


def _from_table(
    points: Sequence[Sequence[float]], temperature_c: float, *, linear: bool
) -> float | None:
    """Join the table's points log-linearly, or straight; never beyond its ends."""
    if not points[0][0] <= temperature_c <= points[-1][0]:
        return None
    at = row_below(points, temperature_c)
    low_c, low = points[at]
    if low_c == temperature_c:
        return low
    high_c, high = points[at + 1]
    share = (temperature_c - low_c) / (high_c - low_c)
    if linear:
        return low + share * (high - low)
    return math.exp(math.log(low) + share * (math.log(high) - math.log(low)))

"""Corrections to the reference temperature."""

import math
from bisect import bisect_right
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache, partial
from typing import Any

from models.judging.wording import plain


@dataclass(frozen=True, slots=True)
class Corrected:
    """The factor to multiply a reading by, and how it was found.

    *factor* None: the correction is not defined there; the words say why.
    """

    factor: float | None
    pattern: str = ""  # of the words, with a place for each of the figures
    figures: tuple[float, ...] = ()
    label: str = ""

    @property
    def words(self) -> str:
        """What was done, or why it could not be; made only where it is read."""
        return self.label + self.pattern.format(*map(plain, self.figures))


UNCORRECTED = Corrected(1.0)
REMEMBERED = 512  # temperatures; the rooms of a campaign have fewer


def corrector(
    correction: Mapping[str, Any],
) -> Callable[[float | None], Corrected]:
    """Return the correction as a function of the temperature that remembers."""
    if correction["by"] == "none":
        return _uncorrected
    return lru_cache(maxsize=REMEMBERED)(partial(correction_factor, correction))


def _uncorrected(_temperature_c: float | None) -> Corrected:
    return UNCORRECTED


def correction_factor(
    correction: Mapping[str, Any], temperature_c: float | None
) -> Corrected:
    """Return the factor that brings a reading to the reference temperature."""
    by = correction["by"]
    if by == "none":
        return UNCORRECTED
    if temperature_c is None:
        return Corrected(None, "The temperature is not known.")
    if by == "metal":
        return _metal(correction, temperature_c)
    return _from_table(correction, temperature_c)


def _metal(correction: Mapping[str, Any], temperature_c: float) -> Corrected:
    """Resistance of a metal: R20 = R (k + 20) / (k + T).

    Source: linear resistance law with the zero-resistance temperature -k
    (IEC 60028 for copper, 234.5 degC).
    """
    k, reference_c = correction["k"], correction["reference_c"]
    if k + temperature_c <= 0:
        return Corrected(None, "{} °C is below what metals know.", (temperature_c,))
    return Corrected(
        (k + reference_c) / (k + temperature_c),
        ": ({} + {}) / ({} + {})",
        (k, reference_c, k, temperature_c),
        correction["label"],
    )


def _temperature(point: Sequence[float]) -> float:
    return point[0]


def _from_table(correction: Mapping[str, Any], temperature_c: float) -> Corrected:
    """Join the table's points log-linearly; never beyond its ends."""
    points = correction["points"]
    label = correction["label"]
    first, last = points[0][0], points[-1][0]
    if not first <= temperature_c <= last:
        return Corrected(
            None,
            "{} °C is outside the correction table ({} to {} °C).",
            (temperature_c, first, last),
        )
    at = bisect_right(points, temperature_c, key=_temperature) - 1
    low_c, low = points[at]
    if low_c == temperature_c:
        return Corrected(low, ", at {} °C {}", (low_c, low), label)
    high_c, high = points[at + 1]
    share = (temperature_c - low_c) / (high_c - low_c)
    factor = math.exp(math.log(low) + share * (math.log(high) - math.log(low)))
    pattern = ", between {} °C {} and {} °C {}"
    return Corrected(factor, pattern, (low_c, low, high_c, high), label)

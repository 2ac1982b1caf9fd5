"""An instrument's accuracy, and the expanded uncertainty that follows from it."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from models.judging.near import at_least
from models.judging.quantities import UNITS, convert, convert_difference

COVERAGE = 2.0  # k


@dataclass(frozen=True, slots=True)
class Accuracy:
    """Half-width in percent of reading, plus a fixed part in *unit*.

    *unit* None: the unit of the value. *low* and *high* are the ends of the range of
    the instrument that it is stated for, in *unit*; None: stated for all it shows.
    """

    pct: float = 0.0
    fixed: float = 0.0
    unit: str | None = None
    low: float | None = None
    high: float | None = None

    def at(self, _value: float, _unit: str) -> "Accuracy":
        """Return what holds at a value: this one."""
        return self

    def expanded(self, value: float, unit: str) -> float:
        """Return U (k = 2) of *value* in *unit*, in that unit.

        The stated limits are taken as a rectangular distribution: standard
        uncertainty = half-width / sqrt(3). Source: JCGM 100:2008 (GUM) 4.3.7;
        expanded with k = 2, 6.2.
        """
        fixed = self.fixed
        if self.unit and self.unit != unit:
            fixed = convert_difference(fixed, self.unit, unit)
        half_width = self.pct / 100.0 * abs(value) + fixed
        return COVERAGE * half_width / math.sqrt(3.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class AccuracyRange:
    """What is stated for one range, *low* to *high* in *unit* (None: of the value).

    Half-width: *pct* percent of reading, *pct_range* percent of the upper end,
    *digits* times the *resolution*, and *fixed*; the last two in *unit*.
    """

    low: float
    high: float
    unit: str | None = None
    pct: float = 0.0
    pct_range: float = 0.0
    digits: float = 0.0
    resolution: float = 0.0
    fixed: float = 0.0

    @property
    def accuracy(self) -> Accuracy:
        """Return percent of reading, and all that is the same in the whole range."""
        of_range = self.pct_range / 100.0 * self.high
        fixed = self.fixed + of_range + self.digits * self.resolution
        return Accuracy(self.pct, fixed, self.unit, self.low, self.high)

    def holds(self, value: float, unit: str) -> bool:
        """Return whether the value lies in the range; both ends are in it.

        A range that begins at or above zero holds negative values by their size.
        """
        here = convert(value, unit, self.unit) if self.unit else value
        here = here if self.low < 0 else abs(here)
        return at_least(here, self.low) and at_least(self.high, here)


@dataclass(frozen=True, slots=True)
class RangedAccuracy:
    """The accuracies of several ranges, by their upper ends, the lowest first."""

    ranges: tuple[AccuracyRange, ...]

    def at(self, value: float, unit: str) -> Accuracy | None:
        """Return what is stated at *value* in *unit*; None beyond all ranges.

        Of several that hold the value the one that ends lowest: a value on a boundary
        takes the lower range, as an instrument that chooses its range by itself does
        (common practice).
        """
        for one in self.ranges:
            if one.holds(value, unit):
                return one.accuracy
        return None


def ranged(ranges: Iterable[AccuracyRange]) -> RangedAccuracy:
    """Return ranges as one accuracy, in their order."""
    return RangedAccuracy(tuple(sorted(ranges, key=_upper_end)))


def _upper_end(one: AccuracyRange) -> float:
    if one.unit is None:
        return one.high
    unit = UNITS[one.unit]
    return (one.high - unit.zero) * unit.times / unit.over


def accuracy_from(data: Mapping[str, Any]) -> Accuracy | RangedAccuracy | None:
    """Return an accuracy from its JSON: `{pct, fixed, unit}` or `{ranges: [...]}`."""
    if not data:
        return None
    if "ranges" in data:
        return ranged(AccuracyRange(**one) for one in data["ranges"])
    return Accuracy(**data)

"""Which range of an accuracy holds each value, in columns."""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.judging.accuracy import Accuracy, AccuracyRange, RangedAccuracy
from models.judging.batch.codes import UNIT_CODES, Codes, Mask, Numbers
from models.judging.batch.conversion import converted
from models.judging.batch.gates import at_least


class Stated(NamedTuple):
    """What is stated at each value; NaN where nothing is, *beyond* 1 beyond all ranges.

    *low* and *high*: the ends of the range, *unit*: theirs and that of *fixed*, a
    place in UNIT_CODES.
    """

    pct: Numbers
    fixed: Numbers
    unit: Codes
    low: Numbers
    high: Numbers
    beyond: Codes


def stated_at(
    accuracies: Sequence[Accuracy | RangedAccuracy | None],
    which: Codes,
    value: Numbers,
    unit: Codes,
) -> Stated:
    """Return what each value's accuracy says of it.

    *which* is its place in *accuracies*; *unit* is the value's, one that fits. A value
    that is NaN lies in no range, and beyond none.
    """
    flat = [one if isinstance(one, Accuracy) else _NONE for one in accuracies]
    table = np.array(
        [(a.pct, a.fixed, UNIT_CODES.index(a.unit), np.nan, np.nan) for a in flat],
        np.float64,
    )
    pct, fixed, code, low, high = table.reshape(-1, 5)[which].T
    beyond = np.zeros(len(value), np.uint8)
    stated = Stated(pct, fixed, code.astype(np.intp), low, high, beyond)
    for place, accuracy in enumerate(accuracies):
        if isinstance(accuracy, RangedAccuracy):
            here = np.flatnonzero(which == place)
            _take_ranges(stated, here, accuracy, value[here], unit[here])
    return stated


_NONE = Accuracy(np.nan, np.nan)


def _take(stated: Stated, here: NDArray[np.intp], one: AccuracyRange) -> None:
    accuracy = one.accuracy
    stated.pct[here], stated.fixed[here] = accuracy.pct, accuracy.fixed
    stated.unit[here] = UNIT_CODES.index(one.unit)
    stated.low[here], stated.high[here] = one.low, one.high


def _take_ranges(
    stated: Stated,
    here: NDArray[np.intp],
    accuracy: RangedAccuracy,
    value: Numbers,
    unit: Codes,
) -> None:
    left = ~np.isnan(value)
    for one in accuracy.ranges:
        held = left & _holds(one, value, unit)
        _take(stated, here[held], one)
        left &= ~held
    stated.beyond[here[left]] = 1


def _holds(one: AccuracyRange, value: Numbers, unit: Codes) -> Mask:
    """Return what `AccuracyRange.holds` does, for values and their units."""
    if one.unit is not None:
        value = converted(value, unit, UNIT_CODES.index(one.unit))
    size = value if one.low < 0 else np.abs(value)
    return np.asarray(at_least(size, one.low) & at_least(one.high, size))

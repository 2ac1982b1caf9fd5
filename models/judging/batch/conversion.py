"""Conversion of units and correction to the reference temperature, in columns."""

from collections.abc import Mapping
from itertools import product
from typing import Any

import numpy as np

from models.judging.batch.codes import UNIT_CODES, Codes, Numbers
from models.judging.quantities import UNITS


def _conversions() -> tuple[Numbers, Numbers]:
    """Return what a value in one unit (row) takes to another (column): times, over."""
    size = len(UNIT_CODES)
    times, over = np.ones((size, size)), np.ones((size, size))
    for at, to in product(range(1, size), repeat=2):
        given, wanted = UNITS[UNIT_CODES[at] or ""], UNITS[UNIT_CODES[to] or ""]
        times[at, to] = given.times * wanted.over
        over[at, to] = given.over * wanted.times
    return times, over


TIMES, OVER = _conversions()
# Where the scale of each unit has its zero, in that unit.
ZERO = np.array([0.0, *(unit.zero for unit in UNITS.values())])


def converted(value: Numbers, unit: Codes, to: int) -> Numbers:
    """Return values of *unit* in the unit *to*; a difference takes no zero."""
    times, over = TIMES[unit, to], OVER[unit, to]
    if not ZERO[unit].any() and not ZERO[to]:
        return np.asarray(value * times / over)
    return np.asarray((value - ZERO[unit]) * times / over + ZERO[to])


def factors(correction: Mapping[str, Any], temperature_c: Numbers) -> Numbers:
    """Return the factors of `correction_factor`; NaN where there is none."""
    if correction["by"] == "none":
        return np.array(1.0)
    if correction["by"] == "metal":
        above = correction["k"] + temperature_c
        whole = correction["k"] + correction["reference_c"]
        return np.asarray(np.where(above > 0, whole / above, np.nan))
    points, factors = np.array(correction["points"], np.float64).T
    if correction.get("join") == "linear":
        straight = np.interp(temperature_c, points, factors, left=np.nan, right=np.nan)
        return np.asarray(straight)
    logs = np.log(factors)
    joined = np.interp(temperature_c, points, logs, left=np.nan, right=np.nan)
    return np.asarray(np.exp(joined))

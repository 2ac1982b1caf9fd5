"""Comparison with the lowest reading of the group, in columns."""

from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from models.judging.batch.codes import (
    MARGINAL,
    NOWHERE,
    OUTSIDE,
    UNJUDGED,
    WITHIN,
    Found,
    Mask,
)
from models.judging.batch.gates import applies, at_least
from models.judging.batch.group import Lowest
from models.judging.batch.measured import Measured
from models.judging.batch.state import State


def compare_with_lowest(state: State, bound: Mapping[str, Any], where: Mask) -> None:
    """At most so many times the lowest of the group; alone, by a maximum only."""
    maximum: NDArray[Any] = NOWHERE
    for other in state.rule.bounds:
        if other["kind"] == "high":
            maximum = maximum | applies(other, state.columns)
    lowest, times = state.lowest, bound["times"]
    assert lowest is not None
    company = np.zeros(where.shape, np.bool_)
    company[lowest.rows] = True
    alone = where & ~company
    state.find(alone & ~(state.number & maximum), UNJUDGED)
    fixed = lowest.low == lowest.high
    of = state.measured.part(lowest.rows)
    found = np.where(
        fixed & of.exact, _by_ratio(of, lowest, times), _open(of, lowest, times)
    )
    verdict, limit = np.zeros(where.shape, np.uint8), np.full(where.shape, np.nan)
    verdict[lowest.rows] = found
    limit[lowest.rows] = np.where(fixed, times * lowest.high, np.nan)
    state.narrow(where, high=limit)
    state.find(where, verdict)


def _by_ratio(of: Measured, lowest: Lowest, times: float) -> Found:
    """Compare numbers: by U of the ratio where it is known, simply where not."""
    shown, high = of.shown, lowest.high
    own, other = of.expanded, lowest.expanded
    simply = np.where(at_least(times * high, shown), WITHIN, OUTSIDE)
    ratio = shown / high
    expanded = ratio * np.hypot(own / shown, other / high)
    met = at_least(times, ratio + expanded)
    missed = ~at_least(times, ratio - expanded)
    guarded = np.where(met, WITHIN, np.where(missed, OUTSIDE, MARGINAL))
    by_itself = np.isnan(own) | np.isnan(other) | (high == 0)
    found = np.where(by_itself, simply, guarded)
    return np.where(lowest.own, WITHIN, found)


def _open(of: Measured, lowest: Lowest, times: float) -> Found:
    """Compare where the reading or the lowest is only a bound.

    Where every reading is over range neither side is certain: unjudged.
    """
    guard = np.hypot(of.relative, lowest.relative)
    spread = np.where(np.isnan(guard), 0.0, guard)
    met = at_least(times * lowest.low, of.high * (1 + spread))
    missed = ~at_least(times * lowest.high, of.low * (1 - spread))
    return np.where(met, WITHIN, np.where(missed, OUTSIDE, UNJUDGED))

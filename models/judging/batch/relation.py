"""Comparison with the lowest reading of the group, in columns."""

from collections.abc import Callable
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.judging.batch.codes import NOWHERE, UNJUDGED, WITHIN, Found, Mask, Numbers
from models.judging.batch.gates import Part, applies, at_least
from models.judging.batch.group import Lowest
from models.judging.batch.limits import usual
from models.judging.batch.measured import Measured
from models.judging.batch.state import State

COMPARISONS = ("high_of_lowest", "over_lowest")


class _Pairs(NamedTuple):
    """Readings that have company, each beside the lowest of its group."""

    of: Measured
    lowest: Lowest
    exact: Mask  # whether both are one number


def compare_times_lowest(state: State, bound: Part, of: Measured, where: Mask) -> None:
    """At most so many times the lowest of the group; alone, by a maximum only.

    U of the ratio is the root of the sum of squares of both relative U: JCGM 100:2008
    (GUM) 5.1.6. What holds where the two may be nearest holds wherever they are.
    """
    times = bound["times"]

    def compared(pairs: _Pairs) -> Found:
        of, lowest = pairs.of, pairs.lowest
        own = np.where(lowest.high == 0, np.nan, lowest.expanded / lowest.high)
        spread = _guard(of.relative, np.where(pairs.exact, own, lowest.relative))
        met = at_least(times * lowest.low, of.high * (1 + spread))
        missed = ~at_least(times * lowest.high, of.low * (1 - spread))
        return usual(pairs.exact, met, missed)

    judged = _any_applies(state, lambda kind: kind == "high")
    assert state.lowest is not None
    _compare(state, where, judged, compared, times * state.lowest.high)


def compare_over_lowest(state: State, bound: Part, of: Measured, where: Mask) -> None:
    """At most so much over the lowest of the group; alone, by another bound only."""
    by = bound["by"]

    def compared(pairs: _Pairs) -> Found:
        of, lowest = pairs.of, pairs.lowest
        greatest = np.where(pairs.exact, lowest.expanded, lowest.absolute)
        guard = _guard(of.expanded, greatest)
        met = at_least(by, of.high - lowest.low + guard)
        missed = ~at_least(by, of.low - lowest.high - guard)
        return usual(pairs.exact, met, missed)

    judged = _any_applies(state, lambda kind: kind not in COMPARISONS)
    assert state.lowest is not None
    _compare(state, where, judged, compared, state.lowest.high + by)


def _compare(
    state: State,
    where: Mask,
    judged_alone: NDArray[Any],
    compared: Callable[[_Pairs], Found],
    limit: Numbers,
) -> None:
    """Judge readings beside the lowest; *limit* is theirs where that is one number.

    Where every reading is over range neither side is certain: unjudged.
    """
    lowest = state.lowest
    assert lowest is not None
    company = np.zeros(where.shape, np.bool_)
    company[lowest.rows] = True
    state.find(where & ~company & ~judged_alone, UNJUDGED)
    of, fixed = state.measured.part(lowest.rows), lowest.low == lowest.high
    pairs = _Pairs(of, lowest, fixed & of.exact)
    found = np.where(pairs.exact & lowest.own, WITHIN, compared(pairs))
    found = np.where(np.isinf(lowest.high), UNJUDGED, found)
    verdict, limits = np.zeros(where.shape, np.uint8), np.full(where.shape, np.nan)
    verdict[lowest.rows] = found
    limits[lowest.rows] = np.where(fixed, limit, np.nan)
    state.narrow(where, high=limits)
    state.find(where, verdict)


def _guard(own: Numbers, others: Numbers) -> Numbers:
    """Return U of the two together; zero, compared simply, where one is not known."""
    guard = np.hypot(own, others)
    return np.where(np.isnan(guard), 0.0, guard)


def _any_applies(state: State, judges: Callable[[str], bool]) -> NDArray[Any]:
    """Return where a bound of such a kind judges a reading without company."""
    found: NDArray[Any] = NOWHERE
    for bound in state.rule.bounds:
        if judges(bound["kind"]):
            found = found | applies(bound, state.columns)
    return found

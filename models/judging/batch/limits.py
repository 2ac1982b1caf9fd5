"""Comparison with limits: a minimum, a maximum, what is expected, the baseline."""

from collections.abc import Mapping

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
    Numbers,
)
from models.judging.batch.gates import Part, at_least
from models.judging.batch.measured import Measured
from models.judging.batch.state import State

# The verdict by whether the value is one number, whether a limit is met for sure, and
# whether it is missed: what is neither is marginal, of a bound unjudged.
USUAL = np.array(
    [
        *(UNJUDGED, OUTSIDE, WITHIN, WITHIN),
        *(MARGINAL, OUTSIDE, WITHIN, WITHIN),
    ]
)


def usual(exact: Mask, met: Mask, missed: Mask) -> Found:
    """Return the verdicts on values that meet a criterion, miss it, or neither."""
    at = exact.view(np.uint8) << 2 | met.view(np.uint8) << 1 | missed.view(np.uint8)
    return USUAL.take(at)


def _unresolved(bound: Part, of: Measured, missed: Mask) -> Mask:
    """Return where U is too great to tell the limit, or not known."""
    if not bound.get("resolve"):
        return NOWHERE
    large = ~missed & (of.expanded > abs(bound["value"]))
    return np.asarray(large | np.isnan(of.expanded))


def find_at_least(state: State, of: Measured, limit: Numbers, where: Mask) -> None:
    """At least *limit*; nothing that has no sign is below zero, whatever its U."""
    met = at_least(of.least, limit)
    if not of.signed.all() and np.less_equal(limit, 0).any():
        met = met | (np.less_equal(limit, 0) & ~of.signed)
    state.find(where, usual(of.exact, met, ~at_least(of.most, limit)))


def find_at_most(state: State, of: Measured, limit: Numbers, where: Mask) -> None:
    """At most *limit*."""
    met, missed = at_least(limit, of.most), ~at_least(limit, of.least)
    state.find(where, usual(of.exact, met, missed))


def compare_low(state: State, bound: Part, of: Measured, where: Mask) -> None:
    """Compare with a minimum."""
    limit = np.array(bound["value"], np.float64)
    _narrow(state, bound, where, low=limit)
    unresolved = _unresolved(bound, of, ~at_least(of.most, limit))
    state.find(where & unresolved, UNJUDGED)
    find_at_least(state, of, limit, where & ~unresolved)


def compare_high(state: State, bound: Part, of: Measured, where: Mask) -> None:
    """Compare with a maximum."""
    limit = np.array(bound["value"], np.float64)
    _narrow(state, bound, where, high=limit)
    unresolved = _unresolved(bound, of, ~at_least(limit, of.least))
    state.find(where & unresolved, UNJUDGED)
    find_at_most(state, of, limit, where & ~unresolved)


def compare_near(state: State, bound: Part, of: Measured, where: Mask) -> None:
    """No further from what is expected than a share of it, or a fixed part."""
    expected = expected_of(state, bound["expected"])
    known = np.isfinite(expected)
    state.find(where & ~known, UNJUDGED)
    where = where & known
    share = (bound.get("pct") or 0.0) / 100 * np.abs(expected)
    within = np.maximum(share, bound.get("fixed") or 0.0)
    if bound.get("below", True):
        _narrow(state, bound, where, low=expected - within)
        find_at_least(state, of, expected - within, where)
    if bound.get("above", True):
        _narrow(state, bound, where, high=expected + within)
        find_at_most(state, of, expected + within, where)


def expected_of(state: State, expected: float | Part) -> Numbers:
    """Return a number, or of a value a multiple or what straight lines join."""
    if not isinstance(expected, Mapping):
        return np.broadcast_to(np.float64(expected), state.columns.rows)
    at, points = state.value(expected["on"]).shown, expected.get("points")
    if points is not None:
        x, y = np.array(points, np.float64).T
        return np.asarray(np.interp(at, x, y, left=np.nan, right=np.nan))
    return np.asarray(at * expected.get("times", 1.0) + expected.get("plus", 0.0))


def compare_baseline(state: State, bound: Part, of: Measured, where: Mask) -> None:
    """So many times the baseline: U of the ratio holds both.

    Without an accuracy of the reading: simple acceptance.
    """
    baseline = bound["value"]
    u_of_baseline = of.shown / baseline * (bound.get("u") or 0.0)
    both = Measured(
        of.low,
        of.high,
        of.shown,
        expanded=np.hypot(of.expanded, u_of_baseline),
        signed=of.signed,
    )
    if bound.get("low_times") is not None:
        least = {**bound, "value": bound["low_times"] * baseline}
        compare_low(state, least, both, where)
    if bound.get("high_times") is not None:
        most = {**bound, "value": bound["high_times"] * baseline}
        compare_high(state, most, both, where)


def _narrow(
    state: State,
    bound: Part,
    where: NDArray[np.bool_],
    *,
    low: Numbers | None = None,
    high: Numbers | None = None,
) -> None:
    """Keep the limits of the reading; those of another value are not its own."""
    if bound.get("of") is None:
        state.narrow(where, low=low, high=high)

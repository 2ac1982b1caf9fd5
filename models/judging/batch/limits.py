"""Comparison with a minimum or a maximum, and the withstand."""

from collections.abc import Mapping
from typing import Any

import numpy as np

from models.judging.batch.codes import (
    MARGINAL,
    OUTSIDE,
    UNJUDGED,
    WITHIN,
    Found,
    Mask,
    Numbers,
)
from models.judging.batch.gates import at_least
from models.judging.batch.measured import Measured
from models.judging.batch.state import State

# The verdict by whether a limit is missed, whether it is met, and whether the value
# is one number: what is neither missed nor met is marginal, of a bound unjudged.
USUAL = np.array(
    [
        *(UNJUDGED, OUTSIDE, WITHIN, WITHIN),
        *(MARGINAL, OUTSIDE, WITHIN, WITHIN),
    ]
)


def find_at_least(state: State, of: Measured, limit: Numbers, where: Mask) -> None:
    """At least *limit*; nothing that has no sign is below zero, whatever its U."""
    met = at_least(of.least, limit)
    if not of.signed:
        met = met | (limit <= 0)
    state.find(where, usual(of, met, ~at_least(of.most, limit)))


def find_at_most(state: State, of: Measured, limit: Numbers, where: Mask) -> None:
    """At most *limit*."""
    met, missed = at_least(limit, of.most), ~at_least(limit, of.least)
    state.find(where, usual(of, met, missed))


def usual(of: Measured, met: Mask, missed: Mask) -> Found:
    """Return the verdicts on values that meet a limit, miss it, or neither."""
    at = of.exact.view(np.uint8) << 2 | met.view(np.uint8) << 1 | missed.view(np.uint8)
    return USUAL.take(at)


def compare_withstand(state: State, bound: Mapping[str, Any], where: Mask) -> None:
    """Compare test voltage and time of a withstand with those that are wanted."""
    level = bound["level_kv"]
    test_kv = state.columns.condition("test_kv")
    state.narrow(where, low=level)
    state.find(where & state.number, UNJUDGED)
    where = where & ~state.number
    reached = at_least(test_kv, level)
    over = ~at_least(level * (1 + bound["over_pct"] / 100), test_kv)
    held = at_least(state.columns.condition("duration_s"), bound["hold_s"])
    state.find(where, np.where(reached, np.where(over, MARGINAL, WITHIN), UNJUDGED))
    state.find(where, np.where(held, WITHIN, UNJUDGED))

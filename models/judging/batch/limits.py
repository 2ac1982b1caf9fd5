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
from models.judging.batch.state import State


def compare_low(state: State, limit: Numbers, where: Mask) -> None:
    """Compare with a minimum; a limit of zero or less is met by what is measured."""
    met = at_least(state.low - state.guard, limit) | (limit <= 0)
    missed = ~at_least(state.high + state.guard, limit)
    state.find(where, usual_way(state, met, missed))


def compare_high(state: State, limit: Numbers, where: Mask) -> None:
    """Compare with a maximum."""
    met = at_least(limit, state.high + state.guard)
    missed = ~at_least(limit, state.low - state.guard)
    state.find(where, usual_way(state, met, missed))


def usual_way(state: State, met: Mask, missed: Mask) -> Found:
    """Return the verdicts: neither met nor missed is marginal, of a bound unjudged."""
    open_to = np.where(state.exact, MARGINAL, UNJUDGED)
    return np.where(met, WITHIN, np.where(missed, OUTSIDE, open_to))


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

"""What was observed: a withstand, and what is expected of a function."""

import numpy as np

from models.judging.batch.codes import (
    MARGINAL,
    OPERATED,
    OUTCOME_CODES,
    OUTSIDE,
    UNJUDGED,
    WITHIN,
    Mask,
)
from models.judging.batch.gates import Part, at_least
from models.judging.batch.state import State


def compare_withstand(state: State, bound: Part, where: Mask) -> None:
    """Compare test voltage and time of a withstand with those that are wanted."""
    level = bound["level_kv"]
    test_kv = state.columns.condition("test_kv")
    state.narrow(where, low=level)
    state.find(where & state.number, UNJUDGED)
    where = where & ~state.number
    reached = at_least(test_kv, level)
    over = ~at_least(level * (1 + bound["over_pct"] / 100), test_kv)
    state.find(where, np.where(reached, np.where(over, MARGINAL, WITHIN), UNJUDGED))
    rated_kv = bound.get("rated_kv")
    if rated_kv is not None:  # stressed beyond what it is built for
        beyond = ~at_least(rated_kv, test_kv) & ~np.isnan(test_kv)
        state.find(where, np.where(beyond, OUTSIDE, WITHIN))
    held = at_least(state.columns.condition("duration_s"), bound["hold_s"])
    state.find(where, np.where(held, WITHIN, UNJUDGED))


def compare_expected(state: State, bound: Part, where: Mask) -> None:
    """What was observed is what was expected; a number is something that operated."""
    outcome = np.where(state.number, OPERATED, state.columns.outcome)
    met = [OUTCOME_CODES.index(word) for word in bound["met"]]
    if bound.get("if_fitted"):
        met.append(OUTCOME_CODES.index("not_fitted"))
    missed = [OUTCOME_CODES.index(word) for word in bound["missed"]]
    found = np.where(np.isin(outcome, missed), OUTSIDE, UNJUDGED)
    state.find(where, np.where(np.isin(outcome, met), WITHIN, found))

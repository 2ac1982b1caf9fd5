"""Values that a rule derives from the reading and the conditions, in columns."""

from collections.abc import Callable, Mapping

import numpy as np

from models.judging.batch.codes import Numbers
from models.judging.batch.gates import Part, applies
from models.judging.batch.measured import Measured
from models.judging.batch.state import State

Operation = Callable[[Numbers, Numbers], Numbers]

DERIVE: Mapping[str, Operation] = {
    "plus": lambda x, y: x + y,
    "minus": lambda x, y: x - y,
    "over": lambda x, y: x / y,
    "error_pct": lambda x, y: 100 * (x / y - 1),
}
QUOTIENTS = {"over": 1.0, "error_pct": 100.0}  # by how much x / y counts


def derive(state: State, word: Part) -> None:
    """Work one derived value out where its `when` fits."""
    by = word["by"] if word.get("by") is not None else word["expected"]
    found = _derived(
        word["op"],
        state.value(word.get("of")),
        state.value(by["on"]) if isinstance(by, Mapping) else state.exactly(by),
        signed=bool(word.get("signed")),
    )
    name = word["name"]
    where = applies(word, state.columns)
    if not where.all():
        before = state.derived.get(name, state.exactly(np.nan))
        found = found.where(where, before)
    state.derived[name] = found


def _derived(op: str, x: Measured, y: Measured, *, signed: bool) -> Measured:
    """Return the value of two, with U by the derivatives: JCGM 100:2008 (GUM) 5.1.2.

    Nothing is divided by what may be zero.
    """
    work, scale = DERIVE[op], QUOTIENTS.get(op)
    ends = [work(end, other) for end in (x.low, x.high) for other in (y.low, y.high)]
    low, high = np.minimum.reduce(ends), np.maximum.reduce(ends)
    shown = work(x.shown, y.shown)
    slope = other = np.array(1.0)
    if scale is not None:
        slope = scale / y.shown
        other = slope * x.shown / y.shown
        possible = y.low * y.high > 0
        low, high, shown = (
            np.where(possible, column, np.nan) for column in (low, high, shown)
        )
    if not signed:  # what is not signed is not negative
        low = np.where(low > -np.inf, low, np.where(np.isnan(low), np.nan, 0.0))
    known = ~(np.isnan(x.expanded) & np.isnan(y.expanded))
    expanded = np.where(known, np.hypot(slope * x.guard, other * y.guard), np.nan)
    return Measured(low, high, shown, expanded=expanded, signed=signed)

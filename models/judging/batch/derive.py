"""Values that a rule derives from the reading and the conditions, in columns."""

from collections.abc import Callable, Mapping

import numpy as np

from models.judging.angles import wrapped
from models.judging.batch.codes import Numbers
from models.judging.batch.gates import Part, applies
from models.judging.batch.leak import rate
from models.judging.batch.measured import Measured
from models.judging.batch.moisture import vapour
from models.judging.batch.row_words import WORDS, derive_from_rows
from models.judging.batch.state import State

Operation = Callable[[Numbers, Numbers], Numbers]

DERIVE: Mapping[str, Operation] = {
    "plus": lambda x, y: x + y,
    "minus": lambda x, y: x - y,
    "over": lambda x, y: x / y,
    "error_pct": lambda x, y: 100 * (x / y - 1),
}


def _pointer(op: str) -> Callable[[State, Part, Measured], Measured]:
    """Return what works a pointer out of its upright part and its level one."""

    def derived(state: State, part: Part, y: Measured) -> Measured:
        x = _operand(state, part)
        length = np.hypot(x.shown, y.shown)
        known = x.exact & y.exact & (length > 0)
        shown, scale = length, np.array(1.0)
        by_x, by_y = x.shown / length, y.shown / length
        if op == "angle":
            shown = np.degrees(np.arctan2(y.shown, x.shown))
            by_x, by_y, scale = by_y, by_x, np.degrees(1 / length)
        shown = np.where(known, shown, np.nan)
        stated = ~(np.isnan(x.expanded) & np.isnan(y.expanded))
        u = scale * np.hypot(by_x * x.guard, by_y * y.guard)
        expanded = np.where(stated, u, np.nan)
        return Measured(shown, shown, shown, expanded=expanded, signed=True)

    return derived


# Words that are no arithmetic of two values.
OWN: Mapping[str, Callable[[State, Part, Measured], Measured]] = {
    "rate": rate,
    "vapour": vapour,
    "angle": _pointer("angle"),
    "magnitude": _pointer("magnitude"),
    **dict.fromkeys(WORDS, derive_from_rows),
}
SIGNED = ("minus", "error_pct")  # what these give may always lie below zero
QUOTIENTS = {"over": 1.0, "error_pct": 100.0}  # by how much x / y counts


def derive(state: State, word: Part) -> None:
    """Work one value out; where its `when` does not fit, it is what it is `of`."""
    of = state.value(word.get("of"))
    own = OWN.get(word["op"])
    found = own(state, word, of) if own else _derived(word, of, _operand(state, word))
    where = applies(word, state.columns)
    state.derived[word["name"]] = found if where.all() else found.where(where, of)


def _operand(state: State, word: Part) -> Measured:
    by = word["expected"] if word["op"] == "error_pct" else word["by"]
    return state.value(by["on"]) if isinstance(by, Mapping) else state.exactly(by)


def _derived(word: Part, x: Measured, y: Measured) -> Measured:
    """Return the value of two, with U by the derivatives: JCGM 100:2008 (GUM) 5.1.2.

    Nothing is divided by what may be zero.
    """
    work, scale = DERIVE[word["op"]], QUOTIENTS.get(word["op"])
    shown = work(x.shown, y.shown)
    possible = np.isfinite(shown)
    slope = other = np.array(1.0)
    if scale is not None:
        possible &= (y.low > 0) | (y.high < 0)
        slope = scale / y.shown
        other = slope * x.shown / y.shown
    known = ~(np.isnan(x.expanded) & np.isnan(y.expanded))
    expanded = np.where(known, np.hypot(slope * x.guard, other * y.guard), np.nan)
    signed = x.signed | bool(word.get("signed") or word["op"] in SIGNED)
    ends = [work(end, other) for end in (x.low, x.high) for other in (y.low, y.high)]
    least, high = np.minimum.reduce(ends), np.maximum.reduce(ends)
    endless = np.isnan(least)  # of two values without end
    least, high = np.where(endless, -np.inf, least), np.where(endless, np.inf, high)
    low = np.where(signed | np.isfinite(least) | (high < 0), least, 0.0)
    if "wrap" in word:
        shown, half = wrapped(shown, word["wrap"]), word["wrap"] / 2
        exact = low == high
        low, high = np.where(exact, shown, -half), np.where(exact, shown, half)
    low, high, shown = (np.where(possible, c, np.nan) for c in (low, high, shown))
    return Measured(low, high, shown, expanded=expanded, signed=signed)

"""What a rule derives from rows of readings, in columns; and gates on a row."""

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np

from models.judging.batch.codes import Mask, Numbers
from models.judging.batch.gates import Part, at_least
from models.judging.batch.measured import Measured
from models.judging.batch.rows import Rows
from models.judging.batch.state import State

# The ends, the value shown, and what U is a share of.
Found = tuple[Numbers, Numbers, Numbers, Numbers]


def derive_from_rows(state: State, word: Part, _of: Measured) -> Measured:
    """Return the values, NaN where there is none; U where the unit is the reading's."""
    rows = state.rows(word["series"])
    low, high, shown, of = WORDS[word["op"]](state, word, rows)
    signed = rows.signed or _is_difference(word)
    known = ~np.isnan(shown)
    least = np.where(np.isinf(low) & (not signed), 0.0, low)
    u = state.measured.relative * of if word.get("unit") == state.rule.unit else np.nan
    return Measured(
        np.where(known, least, np.nan),
        np.where(known, high, np.nan),
        shown,
        expanded=np.broadcast_to(u, shown.shape),
        signed=signed,
    )


def _is_difference(word: Part) -> bool:
    return word["op"] == "series_between" and bool(word["as"] == "difference")


def _same(value: Numbers) -> Found:
    return value, value, value, np.abs(value)


def _share_of(state: State, word: Part, share: float) -> Numbers:
    """Return the step that a share of a condition is, such as of a probe's distance."""
    whole = state.columns.condition(word["share_of"])
    known = whole if whole.dtype.kind in "fiu" else np.array(np.nan)
    return np.broadcast_to(share * known, state.columns.rows)


def _at(state: State, word: Part, rows: Rows) -> Found:
    if "step" not in word:
        return _same(rows.straight_at(_share_of(state, word, word["share"])))
    low, high, shown = (one[rows.of] for one in rows.step(word["step"]))
    return low, high, shown, np.abs(shown)


def _where(_: State, word: Part, rows: Rows) -> Found:
    return _same(np.exp(rows.curves.where_reached(np.log(word["value"])))[rows.of])


def _between(_: State, word: Part, rows: Rows) -> Found:
    late, early = (rows.step(word[end]) for end in ("late", "early"))
    if word["as"] == "ratio":
        low, high = _quotient(late[0], early[1]), _quotient(late[1], early[0])
        low = np.where(np.isnan(low), -np.inf, low)
        high = np.where(np.isnan(high), np.inf, high)
    else:
        low, high = late[0] - early[1], late[1] - early[0]
    shown = np.where(np.isinf(low), high, low)
    known = ~np.isnan(late[2] + early[2]) & np.isfinite(shown)
    shown = np.where(known, shown, np.nan)
    of = np.hypot(late[2], early[2])
    return low[rows.of], high[rows.of], shown[rows.of], of[rows.of]


def _quotient(above: Numbers, below: Numbers) -> Numbers:
    known = np.isfinite(above) & np.isfinite(below) & (below != 0)
    return np.where(known, above / below, np.nan)


def _spread(state: State, word: Part, rows: Rows) -> Found:
    values = np.stack(
        [rows.straight_at(_share_of(state, word, one)) for one in word["shares"]]
    )
    mean = values.mean(axis=0)
    spread = 100 * (values.max(axis=0) - values.min(axis=0)) / mean
    return _same(np.where(mean > 0, spread, np.nan))


def _knee(_: State, word: Part, rows: Rows) -> Found:
    if word["by"] == "rise":
        found = rows.curves.knee_by_rise(word["step_pct"], word["value_pct"])
    else:
        found = rows.curves.knee_by_slope(word["degrees"])
    return _same(np.exp(found)[rows.of])


WORDS: Mapping[str, Callable[[State, Part, Rows], Found]] = {
    "series_at": _at,
    "series_where": _where,
    "series_between": _between,
    "series_spread": _spread,
    "knee": _knee,
}


def row_opens(gate: Part, state: State) -> Mask:
    """Return where a row does; above a value that is not known nothing is counted."""
    rows = state.rows(gate["series"])
    does = rows.read & (rows.count >= gate.get("least", 0))
    if gate.get("rising"):
        does &= ~(np.diff(rows.points, axis=1) <= 0).any(axis=1)
    does = np.asarray(does[rows.of])
    above: Mapping[str, Any] | None = gate.get("above")
    if above is None:
        return does
    value = state.value(above["of"]).shown
    points = rows.points_at[rows.of]
    beyond = np.count_nonzero(points > value[:, None], axis=1) >= above["least"]
    enough = np.isnan(value) | (beyond & _narrow(gate, rows, points, value))
    return np.asarray((does & enough) | (np.isnan(value) & ~rows.read[rows.of]))


def _narrow(gate: Part, rows: Rows, points: Numbers, value: Numbers) -> Mask:
    """Return where no step about the value is too wide."""
    if "gap_pct" not in gate:
        return np.ones(len(value), np.bool_)
    gaps = 100 * (points[:, 1:] / points[:, :-1] - 1)
    last = rows.count[rows.of] - 2
    below = np.count_nonzero(points <= value[:, None], axis=1) - 1
    holds = np.minimum(np.maximum(below, 0), last)
    near_it = np.abs(np.arange(gaps.shape[1]) - holds[:, None]) <= 1
    wide = ~np.isnan(gaps) & ~at_least(gate["gap_pct"], gaps)
    return np.asarray(~(near_it & wide).any(axis=1))

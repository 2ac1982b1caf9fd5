"""Leak rates from two pressures, in columns: the derived word `rate`."""

import numpy as np

from models.judging.accuracy import COVERAGE
from models.judging.batch.codes import UNIT_CODES, Numbers
from models.judging.batch.conversion import OVER, TIMES
from models.judging.batch.gates import Part
from models.judging.batch.isochor import carry, temperature_of
from models.judging.batch.measured import Measured
from models.judging.batch.state import State


def rate(state: State, part: Part, second: Measured) -> Measured:
    """Return the loss a year; U where that of gauge and thermometer is known twice."""
    if state.rule.correction["by"] != "isochor":  # which gas it is, is not known
        return state.exactly(np.nan)
    read = state.value(part["first"])
    showed = state.value(part.get("gauge", part["first"]))
    own = np.isnan(read.expanded)
    read = Measured(
        read.low,
        read.high,
        read.shown,
        expanded=np.where(own, _u_of_gauge(state, showed.shown), read.expanded),
    )
    first, whole = carry(state, read, temperature_of(state, part["first_c"]))
    hours, p1 = state.value(part["over_h"]), first.shown
    scale = 100 * part["year_h"] / np.where(hours.low > 0, hours.shown, np.nan)
    low, high, shown = (
        scale * (1 - p2 / p1) for p2 in (second.high, second.low, second.shown)
    )
    parts = (np.where(np.isnan(r), 0.0, r) for r in (second.relative, first.relative))
    expanded = scale * second.shown / p1 * np.hypot(*parts)
    known = whole & state.whole
    expanded = np.where(known, expanded, np.nan)
    return Measured(low, high, shown, expanded=expanded, signed=True)


def _u_of_gauge(state: State, showed: Numbers) -> Numbers:
    """Return U of the gauge of the reading at what it showed first."""
    columns, to = state.columns, UNIT_CODES.index(state.rule.unit)
    if state.rule.decision == "simple":
        return np.full(columns.rows, np.nan)
    unit = np.where(columns.accuracy_unit == 0, columns.unit, columns.accuracy_unit)
    fixed = columns.accuracy_fixed * TIMES[unit, to] / OVER[unit, to]
    half_width = columns.accuracy_pct / 100.0 * np.abs(showed) + fixed
    return np.asarray(COVERAGE * half_width / np.sqrt(3.0))

"""Whether columns can be readings of a rule's procedure at all."""

from collections.abc import Mapping
from itertools import islice
from typing import Any

import numpy as np
from numpy.typing import NDArray

from models.errors import Fault, InputError
from models.judging.batch.codes import (
    EVERYWHERE,
    NOWHERE,
    OUTCOME_CODES,
    UNIT_CODES,
    WORD_CODES,
    Mask,
    Numbers,
)
from models.judging.batch.columns import Readings
from models.judging.quantities import UNITS
from models.judging.rules import Rule
from models.judging.series import SERIES
from models.judging.values import LARGEST

MOST_FAULTS = 1000  # listed
# Words of a derived value that may name a condition.
NAMING = ("of", "by", "expected", "first", "first_c", "gauge", "over_h", "at")
TEXTS = "UO"  # kinds of a column of texts; long ones are objects
LIMITS = frozenset({"at_least", "at_most"})
# Conditions that the correction and the bounds of outcomes take as numbers.
NUMBERS = frozenset(
    {
        "temperature_c",
        "test_kv",
        "duration_s",
        "applied_a",
        "applied_v",
        "measured_pickup_a",
    }
)
NEGATIVE = "must not be negative."


def check_columns(rule: Rule, columns: Readings) -> None:
    """Raise InputError with the places of all that cannot be judged at all."""
    faults: list[Fault] = []
    for name, column in columns.columns().items():
        if column.ndim and column.shape != (columns.rows,):
            shape = f"{column.shape} where {columns.rows} rows are."
            faults.append(Fault(field=f"column {name}", message=shape))
        if (
            column.dtype.kind not in TEXTS
            or name in _numbers_of(rule)
            or name in WORD_CODES
        ):
            bad = _impossible(name, column)
            _refuse(faults, name, bad, "is no such code or number.")
    if not faults:
        _check_values(rule, columns, faults)
    if faults:
        raise InputError(*faults[:MOST_FAULTS])


def _numbers_of(rule: Rule) -> frozenset[str]:
    """Return the conditions that the rule compares, or works with, as numbers."""
    gates = {gate["on"] for gate in rule.gates if not LIMITS.isdisjoint(gate)}
    arithmetic = [word for word in rule.derive if "series" not in word]
    words = [word.get(name) for word in arithmetic for name in NAMING]
    words += [rule.correction.get("of"), rule.correction.get("thermometer")]
    words += [bound.get(name) for bound in rule.bounds for name in ("of", "expected")]
    named = [w["on"] if isinstance(w, Mapping) else w for w in words]
    return NUMBERS | gates | {w for w in named if isinstance(w, str)}


def _impossible(name: str, column: NDArray[Any]) -> Mask:
    """Return where a column holds what it cannot; NaN, not known, is no such thing."""
    if name in SERIES:
        return np.asarray(column.dtype.kind not in "UO")
    if name == "group":
        return np.asarray(column.dtype.kind not in "iu")
    words = {
        "unit": UNIT_CODES,
        "accuracy_unit": UNIT_CODES,
        "outcome": OUTCOME_CODES,
        **WORD_CODES,
    }
    if name not in words:
        numbers = column.dtype.kind in "fiu"
        return _too_large(column) if numbers else EVERYWHERE
    if column.dtype.kind not in "iu":
        return EVERYWHERE
    return np.asarray((column < 0) | (column >= len(words[name])))


def _too_large(column: NDArray[Any]) -> Mask:
    """Return where a number is beyond what anybody measures."""
    if column.size:
        most, least = np.fmax.reduce(column, None), np.fmin.reduce(column, None)
        if most < LARGEST and least > -LARGEST:
            return NOWHERE  # two looks cost less than a column of sizes
    return np.asarray(np.abs(column) >= LARGEST)


def _check_values(rule: Rule, columns: Readings, faults: list[Fault]) -> None:
    """Check that each row's units fit the rule, and that its numbers fit together."""
    fits = _fitting_units(rule.unit)
    number = columns.outcome == 0
    low, high = columns.low, columns.high
    _refuse(faults, "unit", number & ~fits[columns.unit], "does not fit this test.")
    either = (columns.accuracy_unit == 0) | fits[columns.accuracy_unit]
    _refuse(faults, "accuracy_unit", ~either, "does not fit this test.")
    halves = np.isnan(columns.accuracy_pct) != np.isnan(columns.accuracy_fixed)
    _refuse(faults, "accuracy_pct", halves, "is given without the other half.")
    values = () if rule.signed else ("low", "high")
    for name in (*values, "accuracy_pct", "accuracy_fixed"):
        _refuse(faults, name, _negative(getattr(columns, name)), NEGATIVE)
    if not np.all(number & (low == high)):
        none_known = np.isnan(low) & np.isnan(high)
        apart = (low != high) & ~np.isnan(low) & ~np.isnan(high)
        _refuse(faults, "low", number & none_known, "is no number, nor is high.")
        _refuse(faults, "low", number & apart, "is another number than high.")
        _refuse(faults, "low", ~number & ~none_known, "is given beside an outcome.")


def _negative(column: Numbers) -> Mask:
    """Return where a number is below zero."""
    if column.size and np.fmin.reduce(column, None) >= 0:
        return NOWHERE
    return np.asarray(column < 0)


def _fitting_units(unit: str | None) -> Mask:
    """Return which units a number of a rule in *unit* may have; none without one."""
    wanted = None if unit is None else UNITS[unit].quantity
    return np.array([u is not None and UNITS[u].quantity == wanted for u in UNIT_CODES])


def _refuse(faults: list[Fault], name: str, bad: NDArray[Any], message: str) -> None:
    if not bad.any():
        return
    places = [f"row {row}, " for row in np.flatnonzero(bad)] if bad.ndim else [""]
    faults.extend(
        Fault(field=f"{place}column {name}", message=message)
        for place in islice(places, MOST_FAULTS)
    )

"""Typed readings as the columns of the column-wise reader."""

from collections.abc import Sequence
from typing import Any

import numpy as np

from models.judging import Interval, Reading, Rule, check_reading
from models.judging.batch import (
    ANOTHER,
    OUTCOME_CODES,
    UNIT_CODES,
    WORD_CODES,
    Readings,
    stated_at,
)
from models.judging.reading_check import Checked
from models.judging.series import SERIES
from models.procedures import PROCEDURES


def columns_of(
    rule: Rule, readings: Sequence[Reading], groups: Sequence[int]
) -> Readings:
    """Return readings of one rule as columns; InputError for what is no reading."""
    procedure = PROCEDURES[rule.procedure]
    checked = [check_reading(procedure, each.text, each.unit) for each in readings]
    return columns_of_checked(readings, checked, groups)


def columns_of_checked(
    readings: Sequence[Reading], checked: Sequence[Checked], groups: Sequence[int]
) -> Readings:
    """Return readings as columns, each with what `check_reading` gave for it."""
    values = [value for value, _ in checked]
    pairs = [
        (v.low, v.high) if isinstance(v, Interval) else (None,) * 2 for v in values
    ]
    low, high = (_numbers(list(ends)) for ends in zip(*pairs, strict=True))
    unit = np.array([UNIT_CODES.index(unit) for _, unit in checked])
    stated = stated_at(
        [each.accuracy for each in readings],
        np.arange(len(readings)),
        np.where(np.isnan(low), high, low),
        unit,
    )
    names = {name for each in readings for name in each.conditions}
    return Readings(
        low=low,
        high=high,
        unit=unit,
        outcome=np.array(
            [0 if isinstance(v, Interval) else OUTCOME_CODES.index(v) for v in values]
        ),
        accuracy_pct=stated.pct,
        accuracy_fixed=stated.fixed,
        accuracy_unit=stated.unit,
        beyond_ranges=stated.beyond,
        conditions={name: _condition(name, _given(readings, name)) for name in names},
        conditions_u=_uncertainties(readings),
        group=np.array(groups),
    )


def _condition(name: str, given: list[Any]) -> Any:
    """Return a condition's column: codes, numbers, or texts."""
    if name in WORD_CODES:
        words = WORD_CODES[name]
        found = [words.index(each if each in words else ANOTHER) for each in given]
        return np.array(found)
    if name not in SERIES and all(
        each is None or isinstance(each, float | int) for each in given
    ):
        return _numbers(given)
    return np.array([each or "" for each in given])


def _uncertainties(readings: Sequence[Reading]) -> dict[str, Any]:
    """Return U of each condition whose accuracy is known in some row."""
    names = {name for each in readings for name in each.conditions_accuracy}
    return {name: _numbers([_u(each, name) for each in readings]) for name in names}


def _u(reading: Reading, name: str) -> float | None:
    accuracy = reading.conditions_accuracy.get(name)
    value = reading.conditions.get(name)
    known = accuracy is not None and isinstance(value, float | int)
    return accuracy.expanded(value, "") if known else None


def _given(readings: Sequence[Reading], name: str) -> list[Any]:
    return [each.conditions.get(name) for each in readings]


def _numbers(values: Sequence[float | None]) -> Any:
    return np.array([np.nan if v is None else v for v in values], np.float64)

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
)
from models.procedures import PROCEDURES

NUMBERS = (
    "temperature_c",
    "test_kv",
    "duration_s",
    "test_current_a",
    "applied_a",
    "measured_pickup_a",
)


def columns_of(
    rule: Rule, readings: Sequence[Reading], groups: Sequence[int]
) -> Readings:
    """Return readings of one rule as columns; InputError for what is no reading."""
    procedure = PROCEDURES[rule.procedure]
    checked = [check_reading(procedure, each.text, each.unit) for each in readings]
    values = [value for value, _ in checked]
    pairs = [
        (v.low, v.high) if isinstance(v, Interval) else (None,) * 2 for v in values
    ]
    accuracies = [
        (a.pct, a.fixed, UNIT_CODES.index(a.unit)) if a else (None, None, 0)
        for a in (each.accuracy for each in readings)
    ]
    return Readings(
        low=_numbers([low for low, _ in pairs]),
        high=_numbers([high for _, high in pairs]),
        unit=np.array([UNIT_CODES.index(unit) for _, unit in checked]),
        outcome=np.array(
            [0 if isinstance(v, Interval) else OUTCOME_CODES.index(v) for v in values]
        ),
        accuracy_pct=_numbers([pct for pct, _, _ in accuracies]),
        accuracy_fixed=_numbers([fixed for _, fixed, _ in accuracies]),
        accuracy_unit=np.array([unit for _, _, unit in accuracies]),
        conditions={
            **{name: _numbers(_given(readings, name)) for name in NUMBERS},
            **{
                name: np.array(
                    [
                        words.index(each if each in words else ANOTHER)
                        for each in _given(readings, name)
                    ]
                )
                for name, words in WORD_CODES.items()
            },
        },
        group=np.array(groups),
    )


def _given(readings: Sequence[Reading], name: str) -> list[Any]:
    return [each.conditions.get(name) for each in readings]


def _numbers(values: Sequence[float | None]) -> Any:
    return np.array([np.nan if v is None else v for v in values], np.float64)

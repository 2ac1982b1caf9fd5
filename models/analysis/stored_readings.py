"""Stored readings of one rule, judged in columns."""

import json
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple
from uuid import UUID

import numpy as np
from numpy.typing import NDArray

from models.judging import Rule, accuracy_from
from models.judging.batch import (
    ANOTHER,
    OUTCOME_CODES,
    UNIT_CODES,
    WORD_CODES,
    Codes,
    Judged,
    Numbers,
    Readings,
    judge_columns,
    stated_at,
)
from models.judging.batch.ranges import Stated
from models.judging.gates import (
    INSTRUMENT,
    NOTHING_BEYOND,
    with_calibration_gate,
    with_instrument_gate,
)

LIMIT = INSTRUMENT["on"]  # set where something was beyond the instrument


class StoredReading(NamedTuple):
    """A reading as it is stored, with the verdict on it that is the newest.

    *low* and *high* in *unit*; *rule*: the digest of that verdict's;
    *limit_low* and *limit_high*: that were compared then.
    """

    id: UUID
    card_id: UUID
    point_id: UUID
    group: str
    text: str
    unit: str | None
    low: float | None
    high: float | None
    outcome: str | None
    conditions: Mapping[str, Any]
    accuracy: Mapping[str, Any]
    calibrated: bool
    rule: str
    seq: int
    verdict: str
    limit_low: float | None
    limit_high: float | None


def judge_stored(rule: Rule, rows: Sequence[StoredReading]) -> Judged:
    """Return the judgement of each row by *rule*; a card's group is compared.

    A reading whose instrument was out of calibration, or cannot have shown it, is never
    within or marginal, as where it is judged one by one.
    """
    rule = with_calibration_gate(rule)
    if any(LIMIT in row.conditions for row in rows):
        rule = with_instrument_gate(rule)
    return judge_columns(rule, _columns(rows))


def _columns(rows: Sequence[StoredReading]) -> Readings:
    low = _numbers(row.low for row in rows)
    high = _numbers(row.high for row in rows)
    unit = _codes(UNIT_CODES, (row.unit for row in rows))
    stated = _stated(rows, np.where(np.isnan(low), high, low), unit)
    return Readings(
        low=low,
        high=high,
        unit=unit,
        outcome=_codes(OUTCOME_CODES, (row.outcome for row in rows)),
        accuracy_pct=stated.pct,
        accuracy_fixed=stated.fixed,
        accuracy_unit=stated.unit,
        beyond_ranges=stated.beyond,
        conditions=_conditions(rows),
        group=_groups(rows),
    )


def _stated(rows: Sequence[StoredReading], value: Numbers, unit: Codes) -> Stated:
    """Return what was stated of the accuracy at each value."""
    texts = [json.dumps(row.accuracy) for row in rows]
    places = {text: place for place, text in enumerate(dict.fromkeys(texts))}
    accuracies = [accuracy_from(json.loads(text)) for text in places]
    which = np.array([places[text] for text in texts], np.intp)
    return stated_at(accuracies, which, value, unit)


def _conditions(rows: Sequence[StoredReading]) -> dict[str, NDArray[Any]]:
    found: dict[str, NDArray[Any]] = {}
    for name in {name for row in rows for name in row.conditions}:
        otherwise = NOTHING_BEYOND if name == LIMIT else None
        given = [row.conditions.get(name, otherwise) for row in rows]
        if name in WORD_CODES:
            found[name] = _codes(WORD_CODES[name], given, ANOTHER)
        elif all(isinstance(value, float | int | None) for value in given):
            found[name] = _numbers(given)
        else:
            found[name] = np.array([value or "" for value in given])
    given = ["in_date" if row.calibrated else "lapsed" for row in rows]
    return found | {"calibration": _codes(WORD_CODES["calibration"], given)}


def _numbers(given: Any) -> NDArray[np.float64]:
    return np.array([np.nan if v is None else v for v in given], np.float64)


def _codes(
    words: Sequence[Any], given: Any, otherwise: str | None = None
) -> NDArray[np.integer[Any]]:
    """Return the place of each word in *words*; zero for none."""
    place = {word: at for at, word in enumerate(words)}
    rest = place.get(otherwise, 0)
    return np.array([place.get(word, rest) for word in given], np.int64)


def _groups(rows: Sequence[StoredReading]) -> NDArray[np.integer[Any]]:
    numbers: dict[tuple[UUID, str], int] = {}
    return np.array(
        [numbers.setdefault((r.card_id, r.group), len(numbers)) for r in rows],
        np.int64,
    )

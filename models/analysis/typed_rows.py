"""Rows of a readings file as numbers and codes: an array with a field a column.

A number that is not given is NaN, a code zero; what a code means is its place in
CODES, and of a text its place among the texts of its part of the file. Fields that the
file has no column for are left out.
"""

from collections.abc import Mapping, Sequence
from math import isnan
from typing import Any

import numpy as np
from numpy.typing import NDArray

from models.analysis.readings_file import (
    CHOICES,
    CONDITIONS,
    FLAGS,
    NUMBERS,
    SAID,
    TEXTS,
    WORDS,
)
from models.fields.values import YES_NO
from models.judging import Accuracy, RangedAccuracy, Reading
from models.judging.batch import OUTCOME_CODES, UNIT_CODES, WORD_CODES, Readings
from models.procedures import PROCEDURES

Rows = NDArray[np.void]
Places = NDArray[np.intp]
# The texts of a part of a file by column; the first is blank: not given.
Texts = Mapping[str, Sequence[str]]
NO_TEXTS: Texts = {}

TESTS: Sequence[str | None] = (None, *PROCEDURES)
CODES: Mapping[str, Sequence[str | None]] = {
    **{name: (None, *choices) for name, choices in CHOICES.items()},
    "test": TESTS,
}


def _of_the_core(name: str) -> NDArray[Any]:
    """Return what each code of a column of words is to the core: a code or a text."""
    words = WORD_CODES.get(name)
    if name in FLAGS:
        return np.array([np.nan, *map(float, YES_NO.values())])
    if words is None:
        return np.array([word or "" for word in CODES[name]])
    return np.array([words.index(word) for word in CODES[name]])


OF_THE_CORE = {name: _of_the_core(name) for name in WORDS}
ALWAYS = (
    ("test", "u1"),
    ("outcome", "u1"),
    ("unit", "u1"),
    ("low", "f8"),
    ("high", "f8"),
)
# What is stated at the value, and of which range of the instrument.
ACCURACY = (
    ("accuracy_pct", "f8"),
    ("accuracy_fixed", "f8"),
    ("accuracy_unit", "u1"),
    ("beyond_ranges", "u1"),
)
RANGE = (("range_low", "f8"), ("range_high", "f8"))
DIGEST = 16  # bytes that stand for a test and a group; two never share them by chance
GROUP = (("group", f"S{DIGEST}"), ("contends", "u1"))


def fields_of(header: Sequence[str]) -> np.dtype[np.void]:
    """Return the array's fields for a file with these columns."""
    fields = list(ALWAYS)
    fields += [(name, "f8") for name in NUMBERS if name in header]
    fields += [(name, "u1") for name in CHOICES if name in header and name != "test"]
    fields += [(name, "u4") for name in TEXTS if name in header]
    fields += (*ACCURACY, *RANGE) if "accuracy" in header else ()
    fields += GROUP if "group" in header else ()
    return np.dtype(fields)


def has(rows: Rows, name: str) -> bool:
    """Return whether the rows have a field of this name."""
    return name in (rows.dtype.names or ())


def columns_of(rows: Rows, texts: Texts = NO_TEXTS) -> Readings:
    """Return rows as the columns of the judging core; a rule takes its own."""
    given = {
        name: np.ascontiguousarray(rows[name]) for name in CONDITIONS if has(rows, name)
    }
    given |= {name: OF_THE_CORE[name][rows[name]] for name in WORDS if has(rows, name)}
    given |= {
        name: np.array(texts[name], object)[rows[name]]
        for name in SAID
        if name in texts and has(rows, name)
    }
    known = [name for name, _ in ACCURACY if has(rows, name)]
    accuracy: dict[str, Any] = {
        name: np.ascontiguousarray(rows[name]) for name in known
    }
    return Readings(
        low=np.ascontiguousarray(rows["low"]),
        high=np.ascontiguousarray(rows["high"]),
        unit=rows["unit"].astype(np.intp),
        outcome=rows["outcome"].astype(np.intp),
        conditions=given,
        **accuracy,
    )


def reading_of(
    row: np.void, key: str, text: str | None, texts: Texts = NO_TEXTS
) -> Reading:
    """Return one row as a reading; *text* None: written anew from its number."""
    names = row.dtype.names or ()
    conditions: dict[str, Any] = {}
    for name in CONDITIONS:
        if name in names and row[name] == row[name]:
            conditions[name] = float(row[name])
    for name in WORDS:
        if name in names and row[name]:
            conditions[name] = word_of(name, row)
    for name in SAID:
        if name in names and name in texts and row[name]:
            conditions[name] = texts[name][row[name]]
    return Reading(
        key=key,
        text=written(row) if text is None else text,
        unit=UNIT_CODES[row["unit"]],
        accuracy=_accuracy(row) if "accuracy_pct" in names else None,
        conditions=conditions,
    )


def word_of(name: str, row: np.void) -> Any:
    """Return what a column of choices holds: a word, or yes or no as a truth."""
    word = CODES[name][row[name]]
    return YES_NO.get(word or "") if name in FLAGS else word


def _accuracy(row: np.void) -> Accuracy | RangedAccuracy | None:
    """Return what is stated at the value of a row."""
    if row["beyond_ranges"]:
        return RangedAccuracy(())
    pct, low = float(row["accuracy_pct"]), float(row["range_low"])
    if isnan(pct):
        return None
    fixed, unit = float(row["accuracy_fixed"]), UNIT_CODES[row["accuracy_unit"]]
    ends = () if isnan(low) else (low, float(row["range_high"]))
    return Accuracy(pct, fixed, unit, *ends)


def written(row: np.void) -> str:
    """Return the value of a row as it may be typed."""
    outcome = OUTCOME_CODES[row["outcome"]]
    if outcome is not None:
        return str(outcome.value)
    low, high = float(row["low"]), float(row["high"])
    if low == high:
        return repr(low)
    return f"<{high!r}" if np.isnan(low) else f">{low!r}"

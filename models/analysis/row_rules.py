"""The rules of rows: compiled once for all rows of one nameplate."""

from collections.abc import Iterator
from functools import lru_cache
from typing import Any

import numpy as np

from models.analysis.readings_file import NUMBERS, SUBJECT_COLUMNS, TEXTS
from models.analysis.typed_rows import (
    NO_TEXTS,
    TESTS,
    Places,
    Rows,
    Texts,
    has,
    word_of,
)
from models.judging import Criteria, Rule
from models.judging.batch import UNIT_CODES
from models.procedures import Subject, compile_rule

REMEMBERED = 4096  # rules; a file may have as many nameplates as rows

Plate = tuple[tuple[str, Any], ...]


class RowRules:
    """Finds the rules of rows, and remembers them."""

    def __init__(self, criteria: Criteria) -> None:
        """Compile from these criteria."""
        self._criteria = criteria
        self._compiled = lru_cache(maxsize=REMEMBERED)(self._compile)

    def rules(
        self, rows: Rows, texts: Texts = NO_TEXTS
    ) -> Iterator[tuple[Rule, Places]]:
        """Yield each rule with its rows, which rise."""
        for test in np.unique(rows["test"]):
            here = np.flatnonzero(rows["test"] == test)
            names = [n for n in SUBJECT_COLUMNS[TESTS[test] or ""] if has(rows, n)]
            for places in _alike(rows[here], [*names, "unit"]):
                yield self.rule(rows[here[places[0]]], texts), here[places]

    def rule(self, row: np.void, texts: Texts = NO_TEXTS) -> Rule:
        """Return the rule of one row; without its *texts* what they say is unknown."""
        test = TESTS[row["test"]] or ""
        plate = []
        for name in SUBJECT_COLUMNS[test]:
            if name not in (row.dtype.names or ()):
                continue
            if name in TEXTS:
                if row[name] and name in texts:
                    plate.append((name, texts[name][row[name]]))
            elif name not in NUMBERS:
                if row[name]:
                    plate.append((name, word_of(name, row)))
            elif row[name] == row[name]:
                plate.append((name, float(row[name])))
        return self._compiled(test, tuple(plate), UNIT_CODES[row["unit"]])

    def _compile(self, test: str, plate: Plate, unit: str | None) -> Rule:
        subject = Subject(**dict(plate), limit_unit=unit)
        return compile_rule(test, subject, self._criteria)


def _alike(rows: Rows, names: list[str]) -> Iterator[Places]:
    """Yield the places of rows that have these fields in common."""
    kinds = np.dtype([(name, rows.dtype[name]) for name in names])
    packed = np.zeros(len(rows), kinds)
    for name in names:
        packed[name] = rows[name]
    known: dict[bytes, int] = {}
    keys = packed.view(f"V{kinds.itemsize}").tolist()
    codes = np.array([known.setdefault(key, len(known)) for key in keys], np.intp)
    order = np.argsort(codes, kind="stable")
    yield from np.split(order, np.searchsorted(codes[order], np.arange(1, len(known))))

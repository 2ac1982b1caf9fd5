"""Readings, and judgements, in columns."""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.judging.batch.codes import (
    NO_CODE,
    NO_GROUP,
    UNKNOWN,
    WORD_CODES,
    Codes,
    Found,
    Numbers,
)


@dataclass(frozen=True, kw_only=True)
class Readings:
    """Readings in columns: arrays of a number a row, or one number for all rows.

    NaN is what is not known. A number has *low* and *high* alike, one over range no
    *high*, one under range no *low*, an outcome neither. *unit* and *accuracy_unit*
    (zero: that of the value) are places in UNIT_CODES, *outcome* in OUTCOME_CODES.
    *beyond_ranges* is 1 where an accuracy has ranges of which none holds the value; its
    numbers are NaN there.
    *conditions* by name; those of WORD_CODES hold places there, other words are texts.
    *conditions_u*: expanded uncertainty U of a condition, in its unit. Rows with the
    same *group* are compared with each other, those below zero with none.
    """

    low: Numbers
    high: Numbers
    unit: Codes = field(default_factory=NO_CODE.copy)
    outcome: Codes = field(default_factory=NO_CODE.copy)
    accuracy_pct: Numbers = field(default_factory=UNKNOWN.copy)
    accuracy_fixed: Numbers = field(default_factory=UNKNOWN.copy)
    accuracy_unit: Codes = field(default_factory=NO_CODE.copy)
    beyond_ranges: Codes = field(default_factory=NO_CODE.copy)
    conditions: Mapping[str, NDArray[Any]] = field(default_factory=dict)
    conditions_u: Mapping[str, Numbers] = field(default_factory=dict)
    group: Codes = field(default_factory=NO_GROUP.copy)

    @property
    def rows(self) -> int:
        """Return how many readings there are."""
        return len(self.low)

    def columns(self) -> dict[str, NDArray[Any]]:
        """Return every column by its name, the conditions among them."""
        own = {f.name: getattr(self, f.name) for f in fields(self)}
        of_conditions = {f"u_{n}": u for n, u in own.pop("conditions_u").items()}
        return {**own.pop("conditions"), **of_conditions, **own}

    def part(self, rows: slice | NDArray[np.intp]) -> "Readings":
        """Return some of the rows."""
        cut = {
            name: column[rows] if column.ndim else column
            for name, column in self.columns().items()
        }
        conditions = {name: cut.pop(name) for name in self.conditions}
        u = {name: cut.pop(f"u_{name}") for name in self.conditions_u}
        return replace(self, conditions=conditions, conditions_u=u, **cut)

    def condition(self, name: str) -> NDArray[Any]:
        """Return a condition; not known where there is no such column."""
        absent = NO_CODE if name in WORD_CODES else UNKNOWN
        return self.conditions.get(name, absent)


class Judged(NamedTuple):
    """Judgements in columns: places in VERDICT_CODES, and numbers; NaN is null."""

    verdict: Found
    corrected: Numbers
    limit_low: Numbers
    limit_high: Numbers
    uncertainty: Numbers

"""Readings on their way to verdicts."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from models.judging.accuracy import COVERAGE
from models.judging.batch.codes import UNIT_CODES, UNKNOWN, Found, Mask, Numbers
from models.judging.batch.columns import Readings
from models.judging.batch.conversion import OVER, TIMES, converted, factors
from models.judging.batch.group import Lowest
from models.judging.batch.measured import Measured
from models.judging.batch.rows import NOTHING, Rows
from models.judging.rules import Rule


class State:
    """What is known of readings after the steps that were taken.

    Whatever is given for one row alone stands for all of them.
    """

    def __init__(self, rule: Rule, columns: Readings) -> None:
        """Bring values and U to the rule's unit; nothing is corrected yet."""
        self.rule, self.columns = rule, columns
        self.number: Mask = np.broadcast_to(columns.outcome == 0, columns.rows)
        self.exact: Mask = columns.low == columns.high  # whether one number was read
        self.measured = self._read()
        self.derived: dict[str, Measured] = {}
        self._rows: dict[str, Rows] = {}
        self.verdict: Found = np.zeros(columns.rows, np.uint8)
        self.active: Mask = np.ones(columns.rows, np.bool_)
        self.limit_low: Numbers = np.full(columns.rows, np.nan)
        self.limit_high: Numbers = np.full(columns.rows, np.nan)
        self.lowest: Lowest | None = None
        self.whole: Mask = self.exact  # where U of gauge and thermometer are known

    def correct(self) -> Mask:
        """Bring the readings to the reference temperature; return where that failed."""
        temperature_c = self.columns.condition("temperature_c")
        factor = factors(self.rule.correction, temperature_c)
        if factor.ndim or factor != 1.0:
            self.measured = self.measured.times(factor)
        return np.asarray(self.number & np.isnan(factor))

    def value(self, name: str | None) -> Measured:
        """Return the reading, a derived value or a condition; NaN where not known."""
        if name is None or name == "reading":
            return self.measured
        return self.derived.get(name) or self._condition(name)

    def rows(self, name: str) -> Rows:
        """Return the rows of readings of this kind, read once."""
        if name not in self._rows:
            given = self.columns.condition(name)
            known = given.dtype.kind in "UO"
            texts = given.tolist() if known and given.ndim else []
            if not texts:
                one = str(given) if known else NOTHING
                texts = [one] * self.columns.rows
            self._rows[name] = Rows(name, texts)
        return self._rows[name]

    def exactly(self, number: float | Numbers, u: Numbers = UNKNOWN) -> Measured:
        """Return a number that is the same in every row, or a column of numbers."""
        column = np.broadcast_to(np.asarray(number, np.float64), self.columns.rows)
        expanded = np.broadcast_to(u, self.columns.rows)
        return Measured(column, column, column, expanded=expanded, signed=True)

    def _condition(self, name: str) -> Measured:
        given = self.columns.condition(name)
        if given.dtype.kind not in "fiu":
            return self.exactly(np.nan)  # a word is no number
        guarded = self.rule.decision != "simple"
        u = self.columns.conditions_u.get(name, UNKNOWN) if guarded else UNKNOWN
        return self.exactly(given, u)

    def _read(self) -> Measured:
        """Return the readings; under range they begin at zero unless signed."""
        low, high = self.columns.low, self.columns.high
        exact = bool(self.exact.all())
        value = low if exact else np.where(np.isnan(low), high, low)
        to = UNIT_CODES.index(self.rule.unit)
        shown = converted(value, self.columns.unit, to)
        expanded, signed = (
            self._uncertainty(value, to),
            self.rule.signed,
        )
        if exact:
            return Measured(shown, shown, shown, expanded=expanded, signed=signed)
        return Measured(
            np.where(np.isnan(low), -np.inf if signed else 0.0, shown),
            np.where(np.isnan(high), np.inf, shown),
            shown,
            expanded=expanded,
            signed=signed,
        )

    def _uncertainty(self, value: Numbers, to: int) -> Numbers:
        """Return U (k = 2) of the values, in the rule's unit."""
        columns = self.columns
        if self.rule.decision == "simple" or np.all(np.isnan(columns.accuracy_pct)):
            return np.full(columns.rows, np.nan)
        between = (columns.accuracy_unit, columns.unit)
        fixed = columns.accuracy_fixed * TIMES[between] / OVER[between]
        half_width = columns.accuracy_pct / 100.0 * np.abs(value) + fixed
        expanded = COVERAGE * half_width / np.sqrt(3.0)
        return np.asarray(expanded * TIMES[columns.unit, to] / OVER[columns.unit, to])

    def find(self, where: NDArray[Any], verdict: np.uint8 | Found) -> None:
        """Add a finding: the worst one stays."""
        found = np.multiply(where, verdict, dtype=np.uint8)
        np.maximum(self.verdict, found, out=self.verdict)

    def narrow(
        self,
        where: Mask,
        *,
        low: float | Numbers | None = None,
        high: float | Numbers | None = None,
    ) -> None:
        """Keep the tightest limits."""
        if low is not None:
            np.fmax(self.limit_low, np.where(where, low, np.nan), out=self.limit_low)
        if high is not None:
            np.fmin(self.limit_high, np.where(where, high, np.nan), out=self.limit_high)

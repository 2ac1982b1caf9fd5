"""Readings on their way to verdicts."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from models.judging.accuracy import COVERAGE
from models.judging.batch.codes import (
    BROKE_DOWN,
    OUTSIDE,
    UNIT_CODES,
    UNJUDGED,
    Found,
    Mask,
    Numbers,
)
from models.judging.batch.columns import Readings
from models.judging.batch.conversion import OVER, TIMES, factors
from models.judging.batch.gates import gated
from models.judging.batch.group import Contenders, Lowest
from models.judging.batch.measured import Measured
from models.judging.rules import Rule


class State:
    """What is known of readings after the steps that were taken.

    Whatever is given for one row alone stands for all of them.
    """

    def __init__(self, rule: Rule, columns: Readings) -> None:
        """Bring values and U to the rule's unit and the reference temperature."""
        self.rule, self.columns = rule, columns
        self.number: Mask = np.broadcast_to(columns.outcome == 0, columns.rows)
        self.exact: Mask = columns.low == columns.high  # whether one number was read
        self.factor = factors(rule.correction, columns.condition("temperature_c"))
        self.measured = self._measured()
        self.verdict: Found = np.zeros(columns.rows, np.uint8)
        self.active: Mask = np.ones(columns.rows, np.bool_)
        self.limit_low: Numbers = np.full(columns.rows, np.nan)
        self.limit_high: Numbers = np.full(columns.rows, np.nan)
        self.lowest: Lowest | None = None

    def _measured(self) -> Measured:
        """Return the corrected readings; nothing measured here is negative."""
        low, high = self.columns.low, self.columns.high
        exact = bool(self.exact.all())
        value = low if exact else np.where(np.isnan(low), high, low)
        to = UNIT_CODES.index(self.rule.unit)
        times, over = TIMES[self.columns.unit, to], OVER[self.columns.unit, to]
        shown: Numbers = value * times / over * self.factor
        expanded = self._uncertainty(value, times, over)
        if exact:
            return Measured(shown, shown, shown, expanded=expanded)
        return Measured(
            np.where(np.isnan(low), 0.0, shown),
            np.where(np.isnan(high), np.inf, shown),
            shown,
            expanded=expanded,
        )

    def _uncertainty(self, value: Numbers, times: Numbers, over: Numbers) -> Numbers:
        """Return U (k = 2); without a correction U is that of the value as read."""
        columns = self.columns
        if self.rule.decision == "simple" or np.all(np.isnan(columns.accuracy_pct)):
            return np.full(columns.rows, np.nan)
        between = (columns.accuracy_unit, columns.unit)
        fixed = columns.accuracy_fixed * TIMES[between] / OVER[between]
        half_width = columns.accuracy_pct / 100.0 * value + fixed
        expanded = COVERAGE * half_width / np.sqrt(3.0) * times / over
        known = np.where(np.isnan(self.factor), 1.0, self.factor)
        return np.asarray(expanded * known)

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


def prepare(rule: Rule, columns: Readings) -> State:
    """Pass the gates and correct: everything that needs no other reading."""
    state = State(rule, columns)
    state.find(columns.outcome == BROKE_DOWN, OUTSIDE)
    uncorrected = state.number & np.isnan(state.factor)
    state.find(gated(rule, columns) | uncorrected, UNJUDGED)
    state.active = state.verdict == 0
    return state


def contenders(rule: Rule, columns: Readings) -> Contenders:
    """Return the readings that may be compared with others, in the rule's unit."""
    with np.errstate(all="ignore"):
        state = prepare(rule, columns)
        rows = np.flatnonzero(state.active & state.number)
        of = state.measured.part(rows)
        return Contenders(rows, of.low, of.high, of.expanded, of.relative)

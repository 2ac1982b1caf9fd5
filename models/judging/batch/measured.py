"""Values in columns that bounds are compared with: where they lie, and their U."""

from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from models.judging.batch.codes import Mask, Numbers


class Measured:
    """The corrected readings, a derived value of them, or a condition.

    NaN where nothing is known; *high* is infinite for a value over range, *low* zero,
    or minus infinite where the value is *signed*, for one under range. *expanded* is
    U, NaN without an accuracy.
    """

    def __init__(
        self,
        low: Numbers,
        high: Numbers,
        shown: Numbers,
        *,
        expanded: Numbers,
        signed: bool | Mask = False,
    ) -> None:
        """Take the columns, all of one length; *shown*: the value, or its bound."""
        self.low, self.high, self.shown = low, high, shown
        self.expanded, self.signed = expanded, np.asarray(signed)

    @cached_property
    def exact(self) -> Mask:
        """Where it is one number, and not only a bound."""
        return np.asarray(self.low == self.high)

    @cached_property
    def guard(self) -> Numbers:
        """U, zero where no accuracy is known: simple acceptance."""
        return np.where(np.isnan(self.expanded), 0.0, self.expanded)

    @cached_property
    def least(self) -> Numbers:
        """The lowest that it may be."""
        return self.low - self.guard

    @cached_property
    def most(self) -> Numbers:
        """The highest that it may be."""
        return self.high + self.guard

    @cached_property
    def relative(self) -> Numbers:
        """U over the value; NaN without an accuracy, and of nothing."""
        size = np.abs(self.shown)
        return np.where(size == 0, np.nan, self.expanded / size)

    def times(self, factor: Numbers) -> "Measured":
        """Return the values and their U multiplied; U stays as it was where NaN."""
        known = np.where(np.isnan(factor), 1.0, factor)
        shown = self.shown * factor
        one = self.low is self.shown and self.high is self.shown
        return Measured(
            shown if one else self.low * factor,
            shown if one else self.high * factor,
            shown,
            expanded=self.expanded * known,
            signed=self.signed,
        )

    def where(self, here: NDArray[np.bool_], other: "Measured") -> "Measured":
        """Return these values *here*, and those of *other* elsewhere."""
        pairs = (
            (getattr(self, name), getattr(other, name))
            for name in ("low", "high", "shown", "expanded")
        )
        low, high, shown, expanded = (np.where(here, a, b) for a, b in pairs)
        signed = np.where(here, self.signed, other.signed)
        return Measured(low, high, shown, expanded=expanded, signed=signed)

    def part(self, rows: NDArray[np.intp]) -> "Measured":
        """Return some of the rows."""
        columns = (self.low, self.high, self.shown, self.expanded)
        low, high, shown, expanded = (column[rows] for column in columns)
        signed = self.signed[rows] if self.signed.ndim else self.signed
        return Measured(low, high, shown, expanded=expanded, signed=signed)

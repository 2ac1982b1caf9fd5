"""A value that bounds are compared with: where it lies, and its uncertainty."""

import math
from collections.abc import Callable


class Measured:
    """The corrected reading, a derived value or a condition; numbers are in *unit*.

    *high* is infinite for a value over range. *least* and *most* are *low* less U and
    *high* with U. A plain class with slots: one is made for every reading of a file.
    """

    __slots__ = (
        "exact",  # whether it is one number, and not only a bound
        "expanded",  # U; None without an accuracy
        "high",
        "least",
        "low",
        "most",
        "shown",  # the value, or the bound that is known
        "signed",  # whether it may lie below zero
        "unit",
    )

    def __init__(
        self,
        low: float,
        high: float,
        shown: float,
        *,
        expanded: float | None,
        unit: str,
        signed: bool,
    ) -> None:
        """Put U about the value."""
        self.low, self.high, self.shown = low, high, shown
        self.exact = low == high
        self.expanded, self.unit, self.signed = expanded, unit, signed
        guard = expanded or 0.0
        self.least, self.most = low - guard, high + guard

    @property
    def relative(self) -> float | None:
        """Return U over the value; None without an accuracy, and of nothing."""
        if self.expanded is None or self.shown == 0:
            return None
        return self.expanded / abs(self.shown)

    @property
    def over_range(self) -> bool:
        """Return whether only a bound below it is known."""
        return math.isinf(self.high)


Named = Callable[[str], Measured | None]  # a derived value or a condition

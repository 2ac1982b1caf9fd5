"""Scales: from a value to a place, and where the ticks are."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from models.judging.wording import plain

MOST_TICKS = 40
STEPS = (1.0, 2.0, 5.0, 10.0)
TICK_DIGITS = 12  # significant digits of a tick: what adding up steps leaves behind
# Beyond these a sum or a ratio of what is drawn may be no number any more.
LARGEST, SMALLEST = 1e150, 1e-150
LEAST_SPAN = 1e-9  # against the larger of the ends


@dataclass(frozen=True, slots=True)
class Scale:
    """Maps *low*..*high* to *start*..*end*, straight or by the logarithm."""

    low: float
    high: float
    start: float
    end: float
    logarithmic: bool = False

    def place(self, value: float) -> float:
        """Return where *value* lies; values beyond the scale lie at its ends."""
        value = min(max(value, self.low), self.high)
        if self.logarithmic:
            share = math.log(value / self.low) / math.log(self.high / self.low)
        else:
            share = (value - self.low) / (self.high - self.low)
        return self.start + share * (self.end - self.start)

    def holds(self, value: float) -> bool:
        """Whether *value* lies on the scale."""
        return self.low <= value <= self.high

    def ticks(self, wanted: int = 4) -> list[float]:
        """Return round values on the scale, about *wanted* of them."""
        if self.logarithmic:
            return log_ticks(self.low, self.high, wanted)
        return linear_ticks(self.low, self.high, wanted)


def fit_scale(
    low: float, high: float, start: float, end: float, *, logarithmic: bool = False
) -> Scale:
    """Return a scale of any two numbers, infinite ones and equal ones too.

    Its ends are pulled in or apart where no place could be worked out between them;
    what then lies beyond is drawn at the end.
    """
    least = SMALLEST if logarithmic else -LARGEST
    low = min(max(low, least), LARGEST)
    high = min(max(high, least), LARGEST)
    span = max(LEAST_SPAN * max(abs(low), abs(high)), SMALLEST)
    return Scale(low, max(high, low + span), start, end, logarithmic)


def linear_ticks(low: float, high: float, wanted: int) -> list[float]:
    """Return multiples of 1, 2 or 5 times a power of ten from *low* to *high*."""
    step = round_step((high - low) / max(1, wanted))
    first = math.ceil(low / step - 1e-9)
    last = math.floor(high / step + 1e-9)
    return [n * step for n in range(first, min(last, first + MOST_TICKS) + 1)]


def round_step(rough: float) -> float:
    """Return the step of 1, 2 or 5 times a power of ten at or above *rough*."""
    power = 10.0 ** math.floor(math.log10(rough))
    return next(s * power for s in STEPS if s * power >= rough * (1 - 1e-9))


def log_ticks(low: float, high: float, wanted: int) -> list[float]:
    """Return powers of ten; with 2 and 5 between where there are few of them."""
    exponents = range(math.ceil(math.log10(low)), math.floor(math.log10(high)) + 1)
    if len(exponents) >= 2:
        every = math.ceil(len(exponents) / max(2, wanted))
        return [10.0**e for e in exponents[::every]]
    around = range(math.floor(math.log10(low)), math.ceil(math.log10(high)) + 1)
    fine = [m * 10.0**e for e in around for m in (1.0, 2.0, 5.0)]
    return [value for value in fine if low <= value <= high]


def tick_words(values: Sequence[float]) -> list[str]:
    """Return the ticks as they are printed."""
    return [plain(float(f"{v:.{TICK_DIGITS}g}")) for v in values]

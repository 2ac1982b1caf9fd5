"""Curves through many rows at once: monotone interpolation, and the knee.

A row is a line of a matrix, its points from the left and NaN behind them. The
definitions and their sources are in models/judging/pchip.py and knee.py.
"""

from collections.abc import Callable
from functools import cached_property

import numpy as np

from models.judging.batch.codes import Mask, Numbers
from models.judging.knee import HALVINGS, TOE

Test = Callable[[Numbers], Mask]


class Curves:
    """Curves through (x, y); a row with fewer than two points has none: NaN."""

    def __init__(self, x: Numbers, y: Numbers) -> None:
        """Take matrices with three columns at least."""
        self.x, self.y = x, y
        self.last = np.maximum(np.count_nonzero(~np.isnan(x), axis=1) - 1, 0)
        self.wide = np.diff(x, axis=1)
        self.secants = np.diff(y, axis=1) / self.wide

    @cached_property
    def slopes(self) -> Numbers:
        """dy/dx at each point."""
        h, m = self.wide, self.secants
        w0, w1 = 2 * h[:, 1:] + h[:, :-1], h[:, 1:] + 2 * h[:, :-1]
        inner = (w0 + w1) / (w0 / m[:, :-1] + w1 / m[:, 1:])
        slopes = np.full(self.x.shape, np.nan)
        slopes[:, 1:-1] = np.where(m[:, :-1] * m[:, 1:] <= 0, 0.0, inner)
        slopes[:, 0] = self._end(np.zeros_like(self.last), np.ones_like(self.last))
        rows = np.arange(len(h))
        end = np.maximum(self.last - 1, 0)
        slopes[rows, self.last] = self._end(end, np.maximum(end - 1, 0))
        straight = self.last == 1
        slopes[straight, :2] = m[straight, :1]
        slopes[self.last == 0] = np.nan
        return slopes

    def _end(self, first: Numbers, second: Numbers) -> Numbers:
        h0, h1 = _taken(self.wide, first), _taken(self.wide, second)
        m0, m1 = _taken(self.secants, first), _taken(self.secants, second)
        slope = ((2 * h0 + h1) * m0 - h0 * m1) / (h0 + h1)
        held = (m0 * m1 <= 0) & (np.abs(slope) > 3 * np.abs(m0))
        return np.where(slope * m0 <= 0, 0.0, np.where(held, 3 * m0, slope))

    @property
    def end(self) -> Numbers:
        """The last x of each row."""
        return _taken(self.x, self.last)

    def _place(self, at: Numbers) -> tuple[Numbers, Numbers, Numbers]:
        below = np.count_nonzero(self.x <= at[:, None], axis=1) - 1
        i = np.clip(below, 0, np.maximum(self.last - 1, 0))
        h = _taken(self.wide, i)
        return i, (at - _taken(self.x, i)) / h, h

    def value(self, at: Numbers) -> Numbers:
        """Return y at one x of each row, between the ends."""
        i, s, h = self._place(at)
        rest = 1 - s
        return (
            (1 + 2 * s) * rest * rest * _taken(self.y, i)
            + s * rest * rest * h * _taken(self.slopes, i)
            + s * s * (3 - 2 * s) * _taken(self.y, i + 1)
            - s * s * rest * h * _taken(self.slopes, i + 1)
        )

    def slope(self, at: Numbers) -> Numbers:
        """Return dy/dx at one x of each row, between the ends."""
        i, s, _ = self._place(at)
        return (
            6 * s * (1 - s) * _taken(self.secants, i)
            + (1 - s) * (1 - 3 * s) * _taken(self.slopes, i)
            + s * (3 * s - 2) * _taken(self.slopes, i + 1)
        )

    def where_reached(self, y: float) -> Numbers:
        """Return the least x at which y is reached; NaN where it is not."""
        beyond = self.y[:, 1:] >= y
        found = beyond.any(axis=1) & (self.y[:, 0] <= y)
        first = beyond.argmax(axis=1)
        return self._halved(found, first, lambda x: self.value(x) >= y)

    def knee_by_rise(self, step_pct: float, value_pct: float) -> Numbers:
        """Return x of the knee; NaN where there is none."""
        step, wanted = np.log1p(step_pct / 100), np.log1p(value_pct / 100)
        places = np.concatenate([self.x, self.x - step], axis=1)
        fits = (places >= self.x[:, :1]) & (places <= (self.end - step)[:, None])
        places = np.sort(np.where(fits, places, np.nan), axis=1)

        def beyond(x: Numbers) -> Mask:
            return np.asarray(self.value(x + step) - self.value(x) >= wanted)

        here = np.stack([beyond(column) for column in places.T], axis=1)
        first = here.argmax(axis=1)
        found = here.any(axis=1) & (first > 0)
        low = _taken(places, np.maximum(first - 1, 0))
        return _halve(found, low, _taken(places, first), beyond)

    def knee_by_slope(self, degrees: float) -> Numbers:
        """Return x of the knee; NaN where there is none."""
        wanted = np.tan(np.radians(90 - degrees))
        crosses = (self.slopes[:, :-1] < wanted) & (self.slopes[:, 1:] >= wanted)
        last = crosses.shape[1] - 1 - crosses[:, ::-1].argmax(axis=1)
        toe = np.fmin.accumulate(self.slopes, axis=1)
        found = crosses.any(axis=1) & (_taken(toe, last) < TOE)
        return self._halved(found, last, lambda x: self.slope(x) >= wanted)

    def _halved(self, found: Mask, interval: Numbers, beyond: Test) -> Numbers:
        low, high = _taken(self.x, interval), _taken(self.x, interval + 1)
        return _halve(found, low, high, beyond)


def _taken(matrix: Numbers, column: Numbers) -> Numbers:
    """Return one number of each row."""
    return np.take_along_axis(matrix, column[:, None].astype(np.intp), axis=1)[:, 0]


def _halve(found: Mask, low: Numbers, high: Numbers, beyond: Test) -> Numbers:
    """Return the places between before and *beyond*; NaN where not *found*."""
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        above = beyond(middle)
        low, high = np.where(above, low, middle), np.where(above, middle, high)
    return np.where(found, (low + high) / 2, np.nan)

"""Rows of readings in columns: each distinct text is read once."""

from collections.abc import Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from models.judging.batch.codes import Mask, Numbers
from models.judging.batch.curves import Curves
from models.judging.near import RELATIVE
from models.judging.rows import points_of, row_of, with_logarithms
from models.judging.series import SERIES

NOTHING = ""


class Rows:
    """The rows of one kind that readings carry, a line for each distinct text.

    *at* and the ends of what was shown: *low*, *high* (without end where only a bound
    is known) and *shown*; NaN behind the last. *of*: which line a reading has.
    """

    def __init__(self, name: str, texts: Sequence[str]) -> None:
        """Read what the readings carry; NOTHING where they carry no such row."""
        self.name = name
        lines: dict[str, int] = {}
        self.of = np.array([lines.setdefault(t, len(lines)) for t in texts], np.intp)
        read = [row_of({name: text or None}, name) or () for text in lines]
        steps = [[(s.at, s.value) for s in line] for line in read]
        self.at = _matrix([[at for at, _ in line] for line in steps])
        self.low = _matrix(
            [[-np.inf if v.low is None else v.low for _, v in line] for line in steps]
        )
        self.high = _matrix(
            [[np.inf if v.high is None else v.high for _, v in line] for line in steps]
        )
        self.shown = _matrix([[v.bound for _, v in line] for line in steps])
        points = [points_of(name, line) for line in read]
        self.points_at = _matrix([[at for at, _ in line] for line in points])
        self.points = _matrix([[value for _, value in line] for line in points])
        known = [with_logarithms(line) for line in points]
        self._curved = [[at for at, _ in line] for line in known]
        self._shown = [[value for _, value in line] for line in known]
        self.signed = SERIES[name].signed

    @cached_property
    def read(self) -> Mask:
        """Where there is a row that can be read."""
        return ~np.isnan(self.at[:, 0])

    @cached_property
    def count(self) -> NDArray[np.intp]:
        """How many points a curve has."""
        return np.asarray(np.count_nonzero(~np.isnan(self.points), axis=1), np.intp)

    @cached_property
    def curves(self) -> Curves:
        """The curves through the logarithms of the points."""
        x, y = np.log(_matrix(self._curved)), np.log(_matrix(self._shown))
        return Curves(x, y)

    def step(self, at: float) -> tuple[Numbers, Numbers, Numbers]:
        """Return the ends and what was shown at a step; NaN where there is none."""
        here = np.abs(self.at - at) <= RELATIVE * np.maximum(np.abs(self.at), abs(at))
        where = np.arange(len(self.at)), here.argmax(axis=1)
        found = here.any(axis=1)
        low, high, shown = (
            np.where(found, ends[where], np.nan)
            for ends in (self.low, self.high, self.shown)
        )
        return low, high, shown

    def straight_at(self, at: Numbers) -> Numbers:
        """Return the value at a place of each reading, joined straight; NaN beyond.

        NaN, too, beside what is only a bound.
        """
        steps, low, high = self.at[self.of], self.low[self.of], self.high[self.of]
        value = np.where(low == high, low, np.nan)
        place = at[:, None]
        here = np.abs(steps - place) <= RELATIVE * np.maximum(np.abs(steps), abs(place))
        lines = np.arange(len(steps))
        after = (steps > place).argmax(axis=1)
        before = np.maximum(after - 1, 0)
        x0, x1 = steps[lines, before], steps[lines, after]
        y0, y1 = value[lines, before], value[lines, after]
        between = np.where(x1 > at, y0 + (at - x0) / (x1 - x0) * (y1 - y0), np.nan)
        found = np.where(after > 0, between, np.nan)
        exact = value[lines, here.argmax(axis=1)]
        return np.where(here.any(axis=1), exact, found)


def _matrix(lines: Sequence[Sequence[float]]) -> Numbers:
    """Return lines of numbers as one matrix; NaN behind the last of each."""
    longest = max(3, *map(len, lines)) if lines else 3
    matrix = np.full((len(lines), longest), np.nan)
    for place, line in enumerate(lines):
        matrix[place, : len(line)] = line
    return matrix

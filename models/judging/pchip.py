"""Monotone interpolation: a smooth curve through points that overshoots none of them.

Piecewise cubic Hermite, F. N. Fritsch and J. Butland, "A method for constructing
local monotone piecewise cubic interpolants", SIAM J. Sci. Stat. Comput. 5 (1984), with
the ends of C. Moler, "Numerical Computing with Matlab" (2004), 3.4: scipy's form.
"""

from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise


class Pchip:
    """A curve through points (x, y) whose x rise; two points make a straight line."""

    def __init__(self, x: Sequence[float], y: Sequence[float]) -> None:
        """Work out the slope at each point; there are two at least."""
        self.x, self.y = x, y
        self.wide = [after - before for before, after in pairwise(x)]
        rises = [after - before for before, after in pairwise(y)]
        self.secants = [rise / h for rise, h in zip(rises, self.wide, strict=True)]
        self.slopes = self._slopes()

    def value(self, at: float) -> float:
        """Return y *at* an x between the ends."""
        i, s, h = self._place(at)
        rest = 1 - s
        return (
            (1 + 2 * s) * rest * rest * self.y[i]
            + s * rest * rest * h * self.slopes[i]
            + s * s * (3 - 2 * s) * self.y[i + 1]
            - s * s * rest * h * self.slopes[i + 1]
        )

    def slope(self, at: float) -> float:
        """Return dy/dx *at* an x between the ends."""
        i, s, _ = self._place(at)
        return (
            6 * s * (1 - s) * self.secants[i]
            + (1 - s) * (1 - 3 * s) * self.slopes[i]
            + s * (3 * s - 2) * self.slopes[i + 1]
        )

    def _place(self, at: float) -> tuple[int, float, float]:
        """Return the interval that holds *at*, how far in it is, and how wide it is."""
        i = min(max(bisect_right(self.x, at) - 1, 0), len(self.wide) - 1)
        h = self.wide[i]
        return i, (at - self.x[i]) / h, h

    def _slopes(self) -> list[float]:
        h, m = self.wide, self.secants
        if len(m) == 1:
            return [m[0], m[0]]
        inner = [_inner(h[i - 1], h[i], m[i - 1], m[i]) for i in range(1, len(m))]
        first = _end(h[0], h[1], m[0], m[1])
        return [first, *inner, _end(h[-1], h[-2], m[-1], m[-2])]


def _inner(h0: float, h1: float, m0: float, m1: float) -> float:
    """Return the weighted harmonic mean of two secants; 0 at a peak or a level."""
    if m0 * m1 <= 0:
        return 0.0
    w0, w1 = 2 * h1 + h0, h1 + 2 * h0
    return (w0 + w1) / (w0 / m0 + w1 / m1)


def _end(h0: float, h1: float, m0: float, m1: float) -> float:
    """Return the slope at an end by three points, held to the shape of the curve."""
    slope = ((2 * h0 + h1) * m0 - h0 * m1) / (h0 + h1)
    if slope * m0 <= 0:
        return 0.0
    return 3 * m0 if m0 * m1 <= 0 and abs(slope) > 3 * abs(m0) else slope

"""When two numbers are the same: 5.00 GOhm is 5000 MOhm."""

from math import isclose, isfinite

RELATIVE = 1e-9


def near(a: float, b: float) -> bool:
    """Return whether *a* and *b* are equal within 1e-9 relative.

    Infinity, the upper end of an over-range reading, is near itself only.
    """
    return isclose(a, b, rel_tol=RELATIVE)


def at_least(a: float, b: float) -> bool:
    """Return whether *a* is at or above *b*; exactly at it counts."""
    return a >= b or isclose(a, b, rel_tol=RELATIVE)


def finite(value: object) -> bool:
    """Return whether *value* is a number at all, and not without end."""
    return (
        isinstance(value, int | float)
        and not isinstance(value, bool)
        and isfinite(value)
    )

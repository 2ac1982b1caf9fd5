"""When two numbers are the same: 5.00 GOhm is 5000 MOhm."""

RELATIVE = 1e-9


def near(a: float, b: float) -> bool:
    """Return whether *a* and *b* are equal within 1e-9 relative."""
    return abs(a - b) <= RELATIVE * max(abs(a), abs(b))


def at_least(a: float, b: float) -> bool:
    """Return whether *a* is at or above *b*; exactly at it counts."""
    return a >= b or near(a, b)

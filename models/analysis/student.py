"""Student's t for whole degrees of freedom, by its closed form."""

import math

STEPS = 200  # bisections: far more than a double has bits


def probability_within(t: float, freedom: int) -> float:
    """Return the probability that |T| is at most *t*, of *freedom* (1, 2, ...).

    Source: Abramowitz and Stegun, 26.7.3 and 26.7.4.
    """
    theta = math.atan(t / math.sqrt(freedom))
    cos, sin = math.cos(theta), math.sin(theta)
    odd = freedom % 2
    term = cos if odd else 1.0
    total = term if freedom > 1 else 0.0
    for n in range(2 if odd else 1, freedom - 2, 2):
        term *= cos * cos * n / (n + 1)
        total += term
    return 2 / math.pi * (theta + sin * total) if odd else sin * total


def coverage_factor(level: float, freedom: int) -> float:
    """Return t that |T| stays within with the probability *level* (0 to 1)."""
    low, high = 0.0, 1.0
    while probability_within(high, freedom) < level:
        high *= 2
    for _ in range(STEPS):
        middle = (low + high) / 2
        if probability_within(middle, freedom) < level:
            low = middle
        else:
            high = middle
    return high

"""Probabilities of conformity by scipy.stats, and erfc by scipy.special, as JSON.

Run with the Python of `.venv-oracles`, on nothing of ours.
"""

import json
import random
import sys
from typing import Any

from scipy import special, stats

SEED = 106
LIMITS = ((5.0, None), (None, 5.0), (4.0, 6.0), (0.5, 20.0))
REACH = 9  # beyond nine u a probability is no number that anybody prints


def probabilities() -> list[list[Any]]:
    """Return [value, u, low, high, normal, rectangular] for made-up readings."""
    dice = random.Random(SEED)
    found = []
    for number in range(2000):
        low, high = LIMITS[number % len(LIMITS)]
        u = dice.uniform(0.01, 2.0)
        near = dice.choice([limit for limit in (low, high) if limit is not None])
        value = near + u * dice.uniform(-REACH, REACH)
        a = u * 3**0.5
        found.append(
            [
                value,
                u,
                low,
                high,
                between(stats.norm(value, u), low, high),
                between(stats.uniform(value - a, 2 * a), low, high),
            ]
        )
    return found


def between(distribution: Any, low: float | None, high: float | None) -> float:
    """Return the probability between two limits, either of which may be missing."""
    if low is None:
        return float(distribution.cdf(high))
    if high is None:
        return float(distribution.sf(low))
    return float(distribution.cdf(high) - distribution.cdf(low))


def erfc() -> list[list[float]]:
    """Return [x, erfc(x)] from -6 to 26, where it ends in the smallest number."""
    return [[n / 100, float(special.erfc(n / 100))] for n in range(-600, 2601)]


if __name__ == "__main__":
    json.dump({"probabilities": probabilities(), "erfc": erfc()}, sys.stdout)

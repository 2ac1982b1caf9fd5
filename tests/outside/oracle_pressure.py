"""Straight lines and Student's t by scipy, printed as JSON.

Run with the Python of `.venv-oracles`, on nothing of ours.
"""

import json
import sys
from typing import Any

import numpy as np
from scipy import optimize, stats

# Rounds: days since the first, and residual pressures in Pa. Made up.
ROUNDS: dict[str, tuple[list[int], list[float]]] = {
    "three": ([0, 365, 730], [6e-4, 1.3e-3, 2.6e-3]),
    "four, uneven": ([0, 548, 731, 1826], [4e-4, 6.1e-4, 6.0e-4, 1.9e-3]),
    "six, scattered": (
        [0, 365, 730, 1096, 1461, 1826],
        [5e-4, 9e-4, 8e-4, 1.7e-3, 1.9e-3, 4.1e-3],
    ),
}
LIMIT, LEVEL, DAYS_A_YEAR = 1e-2, 0.90, 365.25


def line(days: list[int], pressures: list[float]) -> dict[str, Any]:
    """Return slope, its standard error, and when line and band reach the limit."""
    x, y = np.array(days) / DAYS_A_YEAR, np.log10(pressures)
    fitted = stats.linregress(x, y)
    n = len(x)
    rest = y - fitted.intercept - fitted.slope * x
    s = np.sqrt(np.sum(rest**2) / (n - 2))
    t = stats.t.ppf((1 + LEVEL) / 2, n - 2)

    def over(at: float, side: int) -> float:
        wide = (
            t * s * np.sqrt(1 / n + (at - x.mean()) ** 2 / np.sum((x - x.mean()) ** 2))
        )
        return float(
            fitted.intercept + fitted.slope * at + side * wide - np.log10(LIMIT)
        )

    # The band is followed until it crosses the limit: no formula for the crossing.
    far = 1000.0
    found = [optimize.brentq(over, x.mean(), far, args=(side,)) for side in (1, 0, -1)]
    return {
        "days": days,
        "pressures": pressures,
        "slope": fitted.slope,
        "stderr": fitted.stderr,
        "reached": [at - x[-1] for at in found],
    }


def factors() -> list[list[float]]:
    """Return [level, degrees of freedom, t]."""
    return [
        [level, freedom, stats.t.ppf((1 + level) / 2, freedom)]
        for level in (0.5, 0.6827, 0.90, 0.9545, 0.99)
        for freedom in range(1, 31)
    ]


if __name__ == "__main__":
    lines = {name: line(*rounds) for name, rounds in ROUNDS.items()}
    json.dump({"lines": lines, "factors": factors()}, sys.stdout)

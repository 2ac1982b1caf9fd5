"""Monotone interpolation by scipy, printed as JSON.

Run with the Python of `.venv-oracles`, on nothing of ours. The curves are made here:
even and uneven steps, rising and falling, with levels, with two points and with many.
"""

import json
import sys
from typing import Any

import numpy as np
from scipy.interpolate import PchipInterpolator


def curves() -> list[dict[str, Any]]:
    """Return points, places, and value and slope there."""
    source = np.random.default_rng(12)
    found = []
    for _ in range(200):
        many = int(source.integers(2, 41))
        x = np.cumsum(source.uniform(0.01, 1.0, many))
        y = np.cumsum(source.normal(source.choice([0.0, 1.0]), 1.0, many))
        if many > 4:
            y[2] = y[3]
        at = np.concatenate([x, source.uniform(x[0], x[-1], 20)])
        curve = PchipInterpolator(x, y)
        found.append(
            {
                "x": x.tolist(),
                "y": y.tolist(),
                "at": at.tolist(),
                "value": curve(at).tolist(),
                "slope": curve.derivative()(at).tolist(),
            }
        )
    return found


if __name__ == "__main__":
    json.dump(curves(), sys.stdout)

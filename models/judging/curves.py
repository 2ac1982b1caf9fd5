"""Operating times of inverse-time curves."""

import math
from collections.abc import Mapping
from typing import Any

from models.judging.wording import plain


def operating_time(
    curve: Mapping[str, Any], time_dial: float, multiple: float
) -> float:
    """Return the time in seconds at *multiple* of pickup; infinite at or below 1.

    Inverse: t = dial (A / (M^p - 1) + B). With B = 0 this is the IEC form, where
    A is k and p is alpha. Sources: IEEE C37.112 (trip equation),
    IEC 60255-151 (inverse-time characteristic). Definite: t = dial.
    """
    if multiple <= 1.0:
        return math.inf
    if curve["form"] == "definite":
        return time_dial
    a, b, p = curve["a"], curve["b"], curve["p"]
    return float(time_dial * (a / (multiple**p - 1.0) + b))


def equation(curve: Mapping[str, Any], time_dial: float, multiple: str) -> str:
    """Return the equation with its numbers, as printed in a working."""
    dial = plain(time_dial)
    if curve["form"] == "definite":
        return dial
    a, b, p = plain(curve["a"]), plain(curve["b"]), plain(curve["p"])
    inverse = f"{a} / ({multiple}^{p} − 1)"
    return f"{dial} × {inverse}" if curve["b"] == 0 else f"{dial} × ({inverse} + {b})"

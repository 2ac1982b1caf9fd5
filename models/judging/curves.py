"""Operating times of inverse-time curves."""

import math
from collections.abc import Mapping
from typing import Any

from models.judging.wording import plain

VOLTAGE = "voltage"  # the form of undervoltage and overvoltage curves
LEVEL = 1e150  # M^p from which on the curve no longer falls, to any float


def operating_time(
    curve: Mapping[str, Any], time_dial: float, multiple: float
) -> float:
    """Return the time in seconds at *multiple* of pickup; infinite at or below 1.

    Inverse: t = dial (A / (M^p - 1) + B). With B = 0 this is the IEC form, where
    A is k and p is alpha. Sources: IEEE C37.112 (trip equation),
    IEC 60255-151 (inverse-time characteristic). Definite: t = dial. Voltage, of 27
    and 59: t = dial A / (B dU/U - C)^E + D with dU/U = multiple - 1 (the table
    `relay_voltage_inverse`); infinite where the voltage is too near its setting.
    """
    if multiple <= 1.0:
        return math.inf
    if curve["form"] == VOLTAGE:
        return _voltage_time(curve, time_dial, multiple - 1.0)
    if curve["form"] == "definite":
        return time_dial
    a, b, p = curve["a"], curve["b"], curve["p"]
    return float(time_dial * (a / (_power(multiple, p) - 1.0) + b))


def _voltage_time(
    curve: Mapping[str, Any], time_dial: float, departure: float
) -> float:
    base = curve["b"] * departure - curve["c"]
    power = base ** curve["e"] if base > 0 else 0.0
    if power == 0.0:
        return math.inf
    return float(time_dial * curve["a"] / power + curve["d"])


def sensitivity(curve: Mapping[str, Any], multiple: float) -> float:
    """Return percent of time for each percent of pickup, at a *multiple* above 1.

    S = - d ln t / d ln M = a p M^p / (M^p - 1)^2 / (a / (M^p - 1) + b); derived from
    the equation of `operating_time`. A definite time has none.
    """
    if curve["form"] == "definite":
        return 0.0
    a, b, p = curve["a"], curve["b"], curve["p"]
    power = _power(multiple, p)
    over = power - 1.0
    if over >= LEVEL:
        return 0.0
    return float(a * p * power / (over * over) / (a / over + b))


def _power(multiple: float, p: float) -> float:
    """Return M^p; infinite where it is beyond what a float holds."""
    try:
        return float(multiple**p)
    except OverflowError:
        return math.inf


def equation(curve: Mapping[str, Any], time_dial: float, multiple: str) -> str:
    """Return the equation with its numbers, as printed in a working.

    *multiple* is that of pickup, for a voltage curve the departure from the setting.
    """
    dial = plain(time_dial)
    if curve["form"] == "definite":
        return dial
    if curve["form"] == VOLTAGE:
        return _voltage_equation(curve, dial, multiple)
    a, b, p = plain(curve["a"]), plain(curve["b"]), plain(curve["p"])
    inverse = f"{a} / ({multiple}^{p} − 1)"
    return f"{dial} × {inverse}" if curve["b"] == 0 else f"{dial} × ({inverse} + {b})"


def _voltage_equation(curve: Mapping[str, Any], dial: str, departure: str) -> str:
    a, b, c, d, e = (plain(curve[name]) for name in "abcde")
    return f"{dial} × {a} / ({b} × {departure} − {c})^{e} + {d}"

"""Numbers out of a judgement's JSON, where measured values may be text."""

import math
from collections.abc import Mapping
from typing import Any

from models.judging.wording import amount, figure, said_as, scale_for

FINE_PRESSURE = 0.1  # Pa: below it a pressure is said as a power of ten ...
FINE_DIGITS = 2  # ... with as many digits as a magnetron's current gives
SUPERSCRIPTS = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


def number(values: Mapping[str, Any], name: str) -> float | None:
    """Return the finite number under *name*, or None.

    A frozen document keeps numbers as text, since canonical JSON would lose
    the digits shown.
    """
    value = values.get(name)
    if value is None or value == "":
        return None
    found = float(value)
    return found if math.isfinite(found) else None


def numbers(part: Any) -> Any:
    """Return a part of a rule with its numbers as numbers, in whatever form it came."""
    if isinstance(part, Mapping):
        return {name: numbers(value) for name, value in part.items()}
    if isinstance(part, list | tuple):
        return [numbers(value) for value in part]
    if not isinstance(part, str):
        return part
    try:
        found = float(part)
    except ValueError:
        return part
    return found if math.isfinite(found) else part


def unit_of(judgement: Mapping[str, Any]) -> str:
    """Return the unit of a judgement's numbers, with the one they are said in."""
    return said_as(judgement.get("corrected_unit") or "", judgement.get("said_unit"))


def shown_amount(value: float, unit: str) -> str:
    """Return a value with its unit: 4.200 GΩ; a vacuum as a power of ten.

    Four digits of such a pressure would be more than its instrument gives.
    """
    if unit != "Pa" or not 0 < abs(value) < FINE_PRESSURE:
        return amount(value, unit)
    mantissa, _, exponent = f"{value:.{FINE_DIGITS - 1}e}".partition("e")
    return f"{mantissa} × 10{str(int(exponent)).translate(SUPERSCRIPTS)} Pa"


def short_amount(value: float, unit: str) -> str:
    """Return a limit as it is written: 5 GΩ, 0.01 Pa, 60.84 µΩ."""
    words, over = scale_for(value, unit)
    return f"{short_figure(value / over)}{words}"


def short_figure(value: float) -> str:
    """Return four significant digits without the zeros that say nothing."""
    said = figure(value)
    return said.rstrip("0").rstrip(".") if "." in said and "e" not in said else said

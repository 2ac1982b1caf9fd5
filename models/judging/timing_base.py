"""Of what an operating time is a function: a current, or the voltage of 27 and 59."""

from collections.abc import Mapping
from typing import Any

Bound = Mapping[str, Any]


def of_voltage(bound: Bound) -> bool:
    """Return whether the time depends on a voltage."""
    return "pickup_v" in bound


def setting_of(bound: Bound) -> str:
    """Return the name of the setting at which it begins to operate."""
    return "pickup_v" if of_voltage(bound) else "pickup_a"


def applied_to(bound: Bound) -> str:
    """Return the name of the condition that says what was applied."""
    return "applied_v" if of_voltage(bound) else "applied_a"


def reach(bound: Bound, multiple: Any) -> Any:
    """Return how far *multiple* of the setting goes beyond 1, on the operating side.

    An undervoltage element operates below its setting: 0.9 of it is as far as 1.1.
    *multiple* may be a column.
    """
    return 2.0 - multiple if bound["curve"].get("falls") else multiple

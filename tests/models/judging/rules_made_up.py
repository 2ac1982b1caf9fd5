"""Rules and readings made by hand for tests: one bound, no gates."""

import math
from collections.abc import Sequence
from typing import Any

from models.judging import Accuracy, Reading, Rule

CITE = {
    "document": "Made-up document",
    "edition": "2020",
    "table": "1",
    "row": "a",
    "provenance": "published",
    "note": "",
}


def rule(
    *bounds: dict[str, Any], cites: Sequence[dict[str, Any]] = (CITE,), **more: Any
) -> Rule:
    """Return a rule in MOhm with these bounds."""
    return Rule(
        procedure="insulation_resistance",
        unit="MOhm",
        bounds=[{"cite": 0, **bound} for bound in bounds],
        cite=list(cites),
        **more,
    )


def low(value: float) -> dict[str, Any]:
    """Return the bound "at least *value*"."""
    return {"kind": "low", "value": value}


def high(value: float) -> dict[str, Any]:
    """Return the bound "at most *value*"."""
    return {"kind": "high", "value": value}


def with_u(expanded: float) -> Accuracy:
    """Return an accuracy whose U is *expanded*, whatever was read."""
    return Accuracy(fixed=expanded * math.sqrt(3) / 2)


def read(text: str, accuracy: Accuracy | None = None, **conditions: Any) -> Reading:
    """Return a reading in MOhm."""
    return Reading(
        key=text, text=text, unit="MOhm", accuracy=accuracy, conditions=conditions
    )

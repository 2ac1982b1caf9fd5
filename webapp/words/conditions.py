"""The conditions of readings, said once where they are the same for all."""

from collections.abc import Mapping, Sequence
from typing import Any

from models.judging.series import SERIES
from models.judging.wording import plain
from models.procedures import PROCEDURES

# what a condition is called when its procedure no longer asks for it
NAMES = {
    "temperature_c": ("Temperature", "°C"),
    "air_temperature_c": ("Air temperature", "°C"),
    "humidity_pct": ("Relative humidity", "%"),
    "test_kv": ("Test voltage", "kV"),
    "duration_s": ("Held for", "s"),
    "test_current_a": ("Test current", "A"),
    "applied_a": ("Applied current", "A"),
    "measured_pickup_a": ("Pickup as measured", "A"),
    "supply": ("Supply", ""),
    "method": ("Method", ""),
}

Doc = Mapping[str, Any]


def common(readings: Sequence[Doc]) -> dict[str, Any]:
    """Return the conditions that are the same for every one of *readings*."""
    if not readings:
        return {}
    first = readings[0]["conditions"]
    return {
        name: value
        for name, value in first.items()
        if all(r["conditions"].get(name) == value for r in readings)
    }


def differing(reading: Doc, shared: Mapping[str, Any]) -> dict[str, Any]:
    """Return the conditions of a reading that are not *shared*."""
    return {n: v for n, v in reading["conditions"].items() if shared.get(n) != v}


def said(procedure: str, conditions: Mapping[str, Any]) -> list[tuple[str, str]]:
    """Return (label, value with unit) of each condition that is given.

    Rows of readings are not among them: they are shown as tables and curves.
    """
    found = PROCEDURES.get(procedure)
    labels = {a["name"]: (a["label"], a["unit"]) for a in (found.asks if found else ())}
    pairs = []
    for name, value in conditions.items():
        if value is None or value == "" or name in SERIES:
            continue
        label, unit = labels.get(name) or NAMES.get(name, (name.replace("_", " "), ""))
        pairs.append((label, f"{_value(value)} {unit}".strip()))
    return pairs


def _value(value: Any) -> str:
    try:
        return plain(float(value))
    except ValueError:
        return str(value).replace("_", " ")

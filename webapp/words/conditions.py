"""The conditions of readings, said once where they are the same for all."""

from collections.abc import Mapping, Sequence
from typing import Any

from models.fields import Field, Kind, find_field, name_now
from models.judging.series import SERIES
from models.judging.wording import plain
from models.procedures import PROCEDURES

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
    labels = {ask["name"]: ask["label"] for ask in (found.asks if found else ())}
    pairs = []
    for name, value in conditions.items():
        if value is None or value == "" or name in SERIES:
            continue
        now = name_now(name, labels)
        about = find_field(now)
        label = labels.get(now) or (about.label if about else now.replace("_", " "))
        unit = about.said_unit if about else ""
        pairs.append((label, f"{_value(about, value)} {unit}".strip()))
    return pairs


def _value(about: Field | None, value: Any) -> str:
    if about is not None and about.kind is Kind.CHOICE:
        return about.choice_words(str(value))
    try:
        return plain(float(value))
    except ValueError:
        return str(value).replace("_", " ")

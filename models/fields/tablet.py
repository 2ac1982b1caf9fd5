"""Fields as plain JSON, for the readers in a browser."""

from typing import Any

from models.fields.row import Field, Kind
from models.fields.table import FIELDS
from models.fields.units import CYCLES, UNITS, conversion, said


def field_for_tablet(about: Field) -> dict[str, Any]:
    """Return what a form needs to know of a field; null: no such end.

    `refusal` is the sentence that refuses a value, `{typed}` standing for it.
    """
    shown: dict[str, Any] = {
        "name": about.name,
        "label": about.label,
        "kind": str(about.kind),
        "unit": about.said_unit,
        "refusal": about.refusal,
        "lasts": about.lasts,
        "own": about.own,
    }
    if about.kind is Kind.NUMBER:
        shown |= {
            "least": about.least,
            "above": about.above,
            "greatest": about.greatest,
            "below": about.below,
            "whole": about.whole,
            "decimals": about.decimals,
            "units": _units(about),
        }
    if about.kind is Kind.CHOICE:
        shown["choices"] = {c: about.choice_words(c) for c in about.choices}
    return shown


def _units(about: Field) -> dict[str, list[float]]:
    """Return each unit that may be typed behind the number, as `conversion` gives it.

    As people write it and by our name. Cycles need the rated frequency, and are not
    among them.
    """
    found: dict[str, list[float]] = {}
    for unit in (about.unit, *about.read) if about.unit in UNITS else ():
        if CYCLES not in (unit, about.unit):
            one = [*conversion(unit, about.unit)]
            found |= {unit: one, said(unit): one}
    return found


def fields_for_tablet() -> dict[str, dict[str, Any]]:
    """Return every field by name."""
    return {name: field_for_tablet(about) for name, about in FIELDS.items()}

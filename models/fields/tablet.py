"""Fields as plain JSON, for the readers in a browser."""

from typing import Any

from models.fields.row import Field, Kind
from models.fields.table import FIELDS


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
    }
    if about.kind is Kind.NUMBER:
        shown |= {
            "least": about.least,
            "above": about.above,
            "greatest": about.greatest,
            "below": about.below,
            "whole": about.whole,
            "decimals": about.decimals,
        }
    if about.kind is Kind.CHOICE:
        shown["choices"] = {c: about.choice_words(c) for c in about.choices}
    return shown


def fields_for_tablet() -> dict[str, dict[str, Any]]:
    """Return every field by name."""
    return {name: field_for_tablet(about) for name, about in FIELDS.items()}

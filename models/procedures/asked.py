"""What the card of a declared procedure asks for, as its file says it."""

from collections.abc import Mapping, Sequence
from typing import Any

from models.fields import find_field
from models.fields.row import Kind
from models.fields.values import YES_NO

Data = Mapping[str, Any]


def asked(data: Data) -> list[str]:
    """Return the names of the conditions that the card asks for."""
    return [
        one if isinstance(one, str) else one.get("field", "")
        for one in data.get("asks", ())
    ]


def choices(data: Data, name: str) -> Sequence[str] | None:
    """Return the values of the condition *name*; None where it is not asked for."""
    about = find_field(name)
    if about is None or name not in asked(data):
        return None
    asks = [one for one in data["asks"] if isinstance(one, Mapping)]
    narrow = [
        one["choices"] for one in asks if one["field"] == name and "choices" in one
    ]
    if about.kind is Kind.YES_NO:
        return tuple(YES_NO)
    return narrow[0] if narrow else about.choices

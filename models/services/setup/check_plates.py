"""Refuse what no nameplate can say, before a rule is made of it."""

from collections.abc import Mapping
from typing import Any

from models.errors import Fault, InputError
from models.fields import check_value, fields

OF_A_PLATE = frozenset(
    one.name for role in ("nameplate", "relay", "site") for one in fields(role)
)


def check_nameplate(nameplate: Mapping[str, Any]) -> None:
    """Raise InputError with every field that cannot be; one not given may be."""
    faults = [
        Fault(field=name, message=f"No nameplate has a field '{name}'.")
        for name in nameplate
        if name not in OF_A_PLATE
    ]
    known = {name: one for name, one in nameplate.items() if name in OF_A_PLATE}
    if faults := faults + _value_faults(known):
        raise InputError(*faults)


def _value_faults(given: Mapping[str, Any]) -> list[Fault]:
    """Return why fields that are given cannot be so."""
    faults: list[Fault] = []
    for name, value in given.items():
        if value in (None, ""):
            continue
        try:
            check_value(name, value)
        except InputError as error:
            faults.extend(error.faults)
    return faults

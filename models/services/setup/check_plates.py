"""Refuse what no nameplate and no instrument can say, before a rule is made of it."""

import math
from collections.abc import Iterator, Mapping
from typing import Any

from models.errors import Fault, InputError
from models.fields import check_value, fields
from models.judging.quantities import UNITS, said_unit
from models.judging.values import LARGEST
from models.procedures import PROCEDURES

OF_A_PLATE = frozenset(
    one.name for role in ("nameplate", "relay", "site") for one in fields(role)
)


def check_nameplate(nameplate: Mapping[str, Any]) -> None:
    """Raise InputError with every field that cannot be; one not given may be."""
    faults: list[Fault] = []
    for name, value in nameplate.items():
        if name not in OF_A_PLATE:
            message = f"No nameplate has a field '{name}'."
            faults.append(Fault(field=name, message=message))
        elif value not in (None, ""):
            try:
                check_value(name, value)
            except InputError as error:
                faults.extend(error.faults)
    if faults:
        raise InputError(*faults)


def check_accuracy(
    procedures: list[str], pct: float | None, fixed: float | None, unit: str | None
) -> None:
    """Raise InputError where an instrument's accuracy fits no reading of it."""
    faults = []
    for name, value in (("accuracy_pct", pct), ("accuracy_fixed", fixed)):
        said = None if value is None else _below_zero(value)
        if said is not None:
            faults.append(Fault(field=name, message=said))
    if fixed and unit:
        faults.extend(_unit_faults(procedures, unit))
    if faults:
        raise InputError(*faults)


def _unit_faults(procedures: list[str], unit: str) -> Iterator[Fault]:
    for name in filter(PROCEDURES.__contains__, procedures):
        units = PROCEDURES[name].units
        fitting = {UNITS[u].quantity for u in units}
        if units and (unit not in UNITS or UNITS[unit].quantity not in fitting):
            known = ", ".join(said_unit(u) for u in units)
            yield Fault(
                field="accuracy_unit",
                message=f"'{unit}' does not fit {PROCEDURES[name].title.lower()}: "
                f"use {known}.",
            )


def _below_zero(value: object) -> str | None:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return f"'{value}' is not a number."
    if math.isnan(value) or abs(value) >= LARGEST:
        return f"{value} is out of all proportion; check it."
    return f"{value:g} must not be below zero." if value < 0 else None

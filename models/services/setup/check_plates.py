"""Refuse what no instrument can do, before a rule is made of it."""

from collections.abc import Iterator, Mapping
from typing import Any

from models.errors import Fault, InputError
from models.fields import check_value
from models.judging.quantities import UNITS, said_unit
from models.procedures import PROCEDURES
from models.record.instrument import READING, READING_UNIT, SUPPLIES


def check_accuracy(
    procedures: list[str], pct: float | None, fixed: float | None, unit: str | None
) -> None:
    """Raise InputError where an instrument's accuracy fits no reading of it."""
    faults = _value_faults({"accuracy_pct": pct, "accuracy_fixed": fixed})
    if fixed and unit:
        faults.extend(_unit_faults(procedures, unit))
    if faults:
        raise InputError(*faults)


def check_abilities(
    procedures: list[str],
    supplies: list[str] | None,
    greatest: Mapping[str, Any] | None,
) -> None:
    """Raise InputError for a supply, or a greatest value, that there is not."""
    faults = [
        Fault(field="supplies", message=f"'{one}' is none of {', '.join(SUPPLIES)}.")
        for one in supplies or ()
        if one not in SUPPLIES
    ]
    for name, most in (greatest or {}).items():
        faults.extend(_greatest_faults(procedures, name, most))
    if READING in (greatest or {}) and not (greatest or {}).get(READING_UNIT):
        message = "Say in which unit the greatest reading is."
        faults.append(Fault(field="greatest", message=message))
    if faults:
        raise InputError(*faults)


def _greatest_faults(procedures: list[str], name: str, most: object) -> Iterator[Fault]:
    if name == READING_UNIT:
        yield from _unit_faults(procedures, str(most))
        return
    asked = {
        a["name"] for p in procedures if p in PROCEDURES for a in PROCEDURES[p].asks
    }
    if name not in asked | {READING}:
        message = f"'{name}' is no condition of its procedures."
        yield Fault(field="greatest", message=message)
    if isinstance(most, bool) or not isinstance(most, int | float) or not most > 0:
        yield Fault(field="greatest", message=f"{name}: {most} must be above 0.")


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

"""Refuse what no nameplate and no instrument can say, before a rule is made of it."""

import math
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from models import criteria
from models.errors import Fault, InputError
from models.judging.choices import CONDUCTORS, INSULATIONS
from models.judging.quantities import UNITS, said_unit
from models.judging.settings import LARGEST_MULTIPLE
from models.judging.timing_options import AGAINST, BANDS
from models.judging.values import LARGEST
from models.procedures import PROCEDURES

ABOVE_ZERO = (
    "rated_kv",
    "rated_withstand_kv",
    "rated_impulse_kv",
    "rated_a",
    "rated_ka",
    "rated_s",
    "rated_hz",
    "level_ac_kv",
    "level_dc_kv",
    "contact_limit_uohm",
    "vacuum_ac_kv",
    "vacuum_dc_kv",
    "vacuum_limit_pa",
    "gas_fill_kpa",
    "fuse_a",
    "pickup_a",
    "time_dial",
    "ceiling_multiple",
)
NOT_BELOW_ZERO = (
    "tolerance_pct",
    "tolerance_s",
    "minimum_time_s",
    "pickup_error_pct",
    "current_error_pct",
)


def check_nameplate(nameplate: Mapping[str, Any]) -> None:
    """Raise InputError with every field that cannot be; one not given may be."""
    given = {k: v for k, v in nameplate.items() if v not in (None, "")}
    faults = [*_number_faults(given), *_word_faults(given), *_multiple_faults(given)]
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


def _number_faults(given: Mapping[str, Any]) -> Iterator[Fault]:
    checks: tuple[tuple[tuple[str, ...], Callable[[Any], str | None]], ...] = (
        (ABOVE_ZERO, _not_above_zero),
        (NOT_BELOW_ZERO, _below_zero),
    )
    for names, fault_of in checks:
        for name in names:
            said = fault_of(given[name]) if name in given else None
            if said is not None:
                yield Fault(field=name, message=said)


def _word_faults(given: Mapping[str, Any]) -> Iterator[Fault]:
    curves = tuple(row["curve"] for row in criteria.load().table("relay_curves").rows)
    for name, known in (
        ("curve", curves),
        ("insulation", INSULATIONS),
        ("conductor", CONDUCTORS),
        ("bands", BANDS),
        ("timed_against", AGAINST),
    ):
        if name in given and given[name] not in known:
            message = f"'{given[name]}' is none of {', '.join(known)}."
            yield Fault(field=name, message=message)


def _multiple_faults(given: Mapping[str, Any]) -> Iterator[Fault]:
    multiples = given.get("multiples", [])
    if not isinstance(multiples, list | tuple):
        yield Fault(field="multiples", message="Give the multiples as a list.")
        return
    for multiple in multiples:
        said = _not_above_zero(multiple)
        if said is None and multiple > LARGEST_MULTIPLE:
            said = f"{multiple:g} times pickup is out of all proportion; check it."
        if said is not None:
            yield Fault(field="multiples", message=said)


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


def _not_above_zero(value: object) -> str | None:
    said = _below_zero(value)
    return f"{value} must be above zero." if said is None and value == 0 else said


def _below_zero(value: object) -> str | None:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return f"'{value}' is not a number."
    if math.isnan(value) or abs(value) >= LARGEST:
        return f"{value} is out of all proportion; check it."
    return f"{value:g} must not be below zero." if value < 0 else None

"""Refuse what no instrument can say of itself."""

import math
from collections.abc import Iterator, Sequence

from models.errors import Fault, InputError
from models.judging.quantities import CURRENT, UNITS, VOLTAGE, said_unit
from models.procedures import PROCEDURES
from models.record.instrument import APPLIES, DOES, PARTS, SUPPLIES, Range

MOST_RANGES = 24
NUMBERS = ("low", "high", *PARTS)
APPLIED_QUANTITIES = (VOLTAGE, CURRENT)


def check_instrument(procedures: Sequence[str], ranges: Sequence[Range]) -> None:
    """Raise InputError for a procedure that there is not and for impossible ranges.

    A fault of a range is at `ranges.<place from 0>.<field>`.
    """
    if faults := instrument_faults(procedures, ranges):
        raise InputError(*faults)


def instrument_faults(
    procedures: Sequence[str], ranges: Sequence[Range]
) -> list[Fault]:
    """Return all that is wrong with them."""
    faults = [
        Fault(field="procedures", message=f"'{name}' is no procedure.")
        for name in procedures
        if name not in PROCEDURES
    ]
    if len(ranges) > MOST_RANGES:
        message = f"An instrument has at most {MOST_RANGES} ranges here."
        faults.append(Fault(field="ranges", message=message))
    for at, one in enumerate(ranges):
        faults += [
            Fault(field=f"ranges.{at}.{field}", message=message)
            for field, message in _range_faults(one, procedures)
        ]
    return faults or list(_together(ranges))


def _range_faults(one: Range, procedures: Sequence[str]) -> Iterator[tuple[str, str]]:
    if one.does not in DOES:
        yield "does", f"'{one.does}' is none of {', '.join(DOES)}."
    if one.supply is not None and one.supply not in SUPPLIES:
        yield "supply", f"'{one.supply}' is none of {', '.join(SUPPLIES)}."
    for name in NUMBERS:
        value = getattr(one, name)
        if value is None:
            continue
        if isinstance(value, bool) or not isinstance(value, int | float):
            yield name, "Enter a number."
        elif not math.isfinite(value) or (value < 0 and name != "low"):
            yield name, f"{value:g} must not be below 0."
    yield from _unit_faults(one, procedures)
    yield from _end_faults(one)
    yield from _part_faults(one)


def _unit_faults(one: Range, procedures: Sequence[str]) -> Iterator[tuple[str, str]]:
    if one.unit is None:
        if one.does == APPLIES or one.high is not None:
            yield "unit", "Say in which unit."
        return
    if one.unit not in UNITS:
        yield "unit", f"'{one.unit}' is no unit."
    elif one.does == APPLIES:
        if one.quantity not in APPLIED_QUANTITIES:
            yield "unit", "What is applied is a voltage or a current: use kV, V or A."
    else:
        units = [u for p in procedures if p in PROCEDURES for u in PROCEDURES[p].units]
        if units and one.quantity not in {UNITS[unit].quantity for unit in units}:
            known = ", ".join(said_unit(unit) for unit in dict.fromkeys(units))
            yield "unit", f"'{one.unit}' fits none of its procedures: use {known}."


def _end_faults(one: Range) -> Iterator[tuple[str, str]]:
    if (one.low is None) != (one.high is None):
        blank = "low" if one.low is None else "high"
        yield blank, "Give both ends of the range, or none."
    elif one.low is not None and one.high is not None and not one.low < one.high:
        yield "high", "The upper end must be above the lower one."


def _part_faults(one: Range) -> Iterator[tuple[str, str]]:
    if one.does == APPLIES and one.stated:
        yield "pct_reading", "What is applied has no accuracy here: leave it blank."
    if one.pct_range is not None and one.high is None:
        yield "pct_range", "Percent of range needs the ends of the range."
    if (one.digits is None) != (one.resolution is None):
        blank = "digits" if one.digits is None else "resolution"
        yield blank, "Digits and their resolution go together."


def _together(ranges: Sequence[Range]) -> Iterator[Fault]:
    """Yield where a range without ends stands beside others of its quantity."""
    for at, one in enumerate(ranges):
        others = [o for o in ranges if o is not one and o.does == one.does != APPLIES]
        beside = [o for o in others if o.quantity in (None, one.quantity)]
        if one.high is None and any(o.supply == one.supply for o in beside):
            message = "Give the ends of each range where there are several."
            yield Fault(field=f"ranges.{at}.low", message=message)

"""Read and check what a field holds; the words of a refusal are the field's own."""

import math
from typing import Any

from models.errors import Fault, InputError
from models.fields.row import LONGEST_TEXT, Field, Kind
from models.fields.table import field
from models.fields.units import convert, named, said
from models.judging.values import LARGEST, parse_number
from models.words import say

YES_NO = {"yes": True, "no": False}


def read_value(
    what: str | Field, text: str, unit: str | None = None, hz: float | None = None
) -> Any:
    """Return what was typed into a field: a number in the field's unit ...

    *what* is its name, or the field itself. *unit* is that in which it was typed,
    else the field's own; *hz* the rated frequency, needed for cycles. Raises
    InputError in the words of the field.
    """
    about = field(what) if isinstance(what, str) else what
    if about.many:
        return [_read_number(about, one, unit, hz) for one in text.split()]
    if about.kind is Kind.NUMBER:
        return _read_number(about, text, unit, hz)
    if about.kind is Kind.YES_NO:
        if text not in YES_NO:
            raise refused(about, text)
        return YES_NO[text]
    return check_value(about, text)


def check_value(what: str | Field, value: Any) -> Any:
    """Return *value* if the field may hold it; InputError in its words."""
    about = field(what) if isinstance(what, str) else what
    if about.many:
        return _check_list(about, value)
    if about.kind is Kind.NUMBER:
        return _check_number(about, value)
    if not _fits(about, value):
        raise refused(about, value)
    return value


def refused(about: Field, typed: object) -> InputError:
    """Return the error that refuses *typed*."""
    shown = f"{typed:.10g}" if isinstance(typed, float) else str(typed)
    return _fault(about, about.refusal.replace("{typed}", shown))


def _read_number(about: Field, text: str, unit: str | None, hz: float | None) -> float:
    try:
        number = parse_number(text)
        if unit is not None:
            number = convert(number, _unit(about, unit), about.unit, hz)
    except InputError as error:
        faults = " ".join(fault.message for fault in error.faults)
        raise _wrong(about, faults) from error
    if not about.allows(number):
        raise refused(about, " ".join(filter(None, (text, unit))))
    return number + 0.0  # -0 is 0


def _unit(about: Field, typed: str) -> str:
    unit = named(typed)
    allowed = [about.unit, *about.read]
    if unit not in allowed:
        units = ", ".join(map(said, filter(None, allowed)))
        message = say("field.other_unit", unit=typed, units=units)
        raise InputError(Fault(field=about.name, message=message))
    return unit


def _check_number(about: Field, value: Any) -> Any:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise _wrong(about, say("field.no_number", value=str(value)))
    if not math.isfinite(value) or abs(value) >= LARGEST:
        raise _wrong(about, say("fault.too_large", number=str(value)))
    if not about.allows(value):
        raise refused(about, value)
    return value


def _check_list(about: Field, value: Any) -> Any:
    if not isinstance(value, list | tuple):
        raise _wrong(about, say("field.list"))
    return [_check_number(about, one) for one in value]


def _fits(about: Field, value: Any) -> bool:
    if about.kind is Kind.YES_NO:
        return isinstance(value, bool)
    if not isinstance(value, str):
        return False
    if about.kind is Kind.CHOICE:
        return value in about.choices
    return len(value) <= LONGEST_TEXT


def _wrong(about: Field, fault: str) -> InputError:
    return _fault(about, say("field.fault", label=about.label, fault=fault))


def _fault(about: Field, message: str) -> InputError:
    return InputError(Fault(field=about.name, message=message))

"""Given criteria: the figures that a maker or a project may ask for, as data."""

from collections.abc import Mapping
from dataclasses import dataclass

from models.errors import Fault, InputError
from models.judging.quantities import UNITS, convert, said_unit
from models.judging.values import parse_number
from models.judging.wording import plain, scale_for
from models.procedures.procedure import Givable

# In the order in which they go before each other (and before every table).
STANDINGS: Mapping[str, str] = {
    "project": "project specification",
    "maker": "maker's data",
}
# What a criterion is given for: the narrower goes before the wider.
SCOPES = ("apparatus", "kind", "lineup")


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """One figure that somebody asks for here, with where it is written.

    *value* is in the first unit of its quantity; *criterion* and *version* name
    the entry in the record that it was taken from.
    """

    quantity: str
    value: float
    standing: str
    scope: str
    document: str
    edition: str = ""
    clause: str = ""
    criterion: str = ""
    version: int = 1


def given_value(givable: Givable, text: str, unit: str) -> float:
    """Return what was typed in the first unit of *givable*.

    Raises InputError for what is no plain number above zero (a part of a
    tolerance may be zero), and for a unit in which the quantity is not given.
    """
    faults, value = [], 0.0
    if unit not in givable.units:
        known = ", ".join(map(said_unit, givable.units))
        message = f"'{unit}' does not fit: write {known}."
        faults.append(Fault(field="unit", message=message))
    try:
        value = parse_number(text)
        _check(givable, value)
    except InputError as error:
        faults.extend(error.faults)
    if faults:
        raise InputError(*faults)
    return convert(value, unit, givable.units[0]) if unit in UNITS else value


def _check(givable: Givable, value: float) -> None:
    message = None
    if value < 0 or (value == 0 and not givable.may_be_zero):
        message = "It must be above zero."
    elif givable.units[0] == "times" and value < 1:
        message = "A pole cannot be less than once the lowest: write 1.5, say."
    if message is not None:
        raise InputError(Fault(field="value", message=message))


def said_figure(givable: Givable, value: float) -> str:
    """Return a figure of *givable* in the unit in which people say it."""
    words, over = scale_for(value, givable.units[0])
    return f"{plain(value / over)}{words}"

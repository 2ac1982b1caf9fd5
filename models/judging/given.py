"""Given criteria: the figures that a maker or a project may ask for, as data."""

from collections.abc import Mapping
from dataclasses import dataclass

from models.errors import Fault, InputError
from models.judging.quantities import UNITS, convert, said_unit
from models.judging.values import parse_number
from models.judging.wording import plain, scale_for

# In the order in which they go before each other (and before every table).
STANDINGS: Mapping[str, str] = {
    "project": "project specification",
    "maker": "maker's data",
}
# What a criterion is given for: the narrower goes before the wider.
SCOPES = ("apparatus", "kind", "lineup")


@dataclass(frozen=True, slots=True, kw_only=True)
class Givable:
    """A figure that can be given; the first unit is that of the rule."""

    procedure: str
    title: str
    side: str  # what the figure is: a least, a greatest, or the level itself
    units: tuple[str, ...]
    may_be_zero: bool = False


GIVABLE: Mapping[str, Givable] = {
    "insulation_minimum": Givable(
        procedure="insulation_resistance",
        title="Insulation resistance at 20 °C, at least",
        side="least",
        units=("MOhm", "GOhm", "kOhm", "TOhm"),
    ),
    "contact_limit": Givable(
        procedure="contact_resistance",
        title="Contact resistance at 20 °C, at most",
        side="greatest",
        units=("uOhm", "mOhm"),
    ),
    "contact_spread": Givable(
        procedure="contact_resistance",
        title="Contact resistance, at most so many times the lowest of its group",
        side="greatest",
        units=("times",),
    ),
    "withstand_ac": Givable(
        procedure="dielectric_withstand",
        title="Field withstand level, ac",
        side="level",
        units=("kV",),
    ),
    "withstand_dc": Givable(
        procedure="dielectric_withstand",
        title="Field withstand level, dc",
        side="level",
        units=("kV",),
    ),
    "vacuum_ac": Givable(
        procedure="vacuum_integrity",
        title="Level across the open gap, ac",
        side="level",
        units=("kV",),
    ),
    "vacuum_dc": Givable(
        procedure="vacuum_integrity",
        title="Level across the open gap, dc",
        side="level",
        units=("kV",),
    ),
    "vacuum_pressure": Givable(
        procedure="vacuum_integrity",
        title="Residual pressure, at most",
        side="greatest",
        units=("Pa", "mbar", "Torr"),
    ),
    "relay_tolerance_pct": Givable(
        procedure="relay_timing",
        title="Tolerance of the operating time, part of the expected time",
        side="greatest",
        units=("%",),
        may_be_zero=True,
    ),
    "relay_tolerance_s": Givable(
        procedure="relay_timing",
        title="Tolerance of the operating time, fixed part",
        side="greatest",
        units=("s", "ms"),
        may_be_zero=True,
    ),
}


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


def given_value(quantity: str, text: str, unit: str) -> float:
    """Return what was typed in the first unit of *quantity*.

    Raises InputError for what is no plain number above zero (a part of a
    tolerance may be zero), and for a unit in which the quantity is not given.
    """
    givable = GIVABLE[quantity]
    faults, value = [], 0.0
    if unit not in givable.units:
        known = ", ".join(map(said_unit, givable.units))
        message = f"'{unit}' does not fit: write {known}."
        faults.append(Fault(field="unit", message=message))
    try:
        value = parse_number(text)
        _check(quantity, value)
    except InputError as error:
        faults.extend(error.faults)
    if faults:
        raise InputError(*faults)
    return convert(value, unit, givable.units[0]) if unit in UNITS else value


def _check(quantity: str, value: float) -> None:
    message = None
    if value < 0 or (value == 0 and not GIVABLE[quantity].may_be_zero):
        message = "It must be above zero."
    elif quantity == "contact_spread" and value < 1:
        message = "A pole cannot be less than once the lowest: write 1.5, say."
    if message is not None:
        raise InputError(Fault(field="value", message=message))


def said_figure(quantity: str, value: float) -> str:
    """Return a figure of *quantity* in the unit in which people say it."""
    words, over = scale_for(value, GIVABLE[quantity].units[0])
    return f"{plain(value / over)}{words}"

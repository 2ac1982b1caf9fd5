"""Units: the symbols people type, the quantity they belong to, conversion."""

from dataclasses import dataclass
from functools import lru_cache

from models.errors import Fault, InputError
from models.words import say

# A unit is (quantity, factor to the quantity's first unit). Factors are exact
# powers of ten but for the torr: 101 325 Pa / 760 (SI brochure, 9th edition, note).
RESISTANCE, TIME, PRESSURE = "resistance", "time", "pressure"


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: its quantity, and the factor as numerator over denominator."""

    quantity: str
    times: float
    over: float = 1.0


UNITS: dict[str, Unit] = {
    "uOhm": Unit(RESISTANCE, 1.0, 1e12),
    "mOhm": Unit(RESISTANCE, 1.0, 1e9),
    "Ohm": Unit(RESISTANCE, 1.0, 1e6),
    "kOhm": Unit(RESISTANCE, 1.0, 1e3),
    "MOhm": Unit(RESISTANCE, 1.0),
    "GOhm": Unit(RESISTANCE, 1e3),
    "TOhm": Unit(RESISTANCE, 1e6),
    "s": Unit(TIME, 1.0),
    "ms": Unit(TIME, 1.0, 1e3),
    "Pa": Unit(PRESSURE, 1.0),
    "mbar": Unit(PRESSURE, 100.0),
    "Torr": Unit(PRESSURE, 101325.0, 760.0),
}

# Greek omega, ohm sign, micro sign, Greek mu: all of them are typed.
_TYPED = (("\u03a9", "Ohm"), ("\u2126", "Ohm"), ("\u00b5", "u"), ("\u03bc", "u"))

_OTHER_SPELLINGS = {"torr": "Torr", "pa": "Pa", "sec": "s", "msec": "ms"}

SAID = {
    "uOhm": "µΩ",
    "mOhm": "mΩ",
    "Ohm": "Ω",
    "kOhm": "kΩ",
    "MOhm": "MΩ",
    "GOhm": "GΩ",
    "TOhm": "TΩ",
}


@lru_cache(maxsize=256)
def unit_name(symbol: str) -> str | None:
    """Return our name of the unit that *symbol* stands for, or None.

    MΩ, Mohm and MOhm are one unit; M and m are not.
    """
    name = "".join(symbol.split())
    for typed, ours in _TYPED:
        name = name.replace(typed, ours)
    for written in ("ohms", "Ohms", "ohm", "OHM"):
        if name.endswith(written):
            name = name.removesuffix(written) + "Ohm"
            break
    name = _OTHER_SPELLINGS.get(name, name)
    return name if name in UNITS else None


def said_unit(unit: str | None) -> str:
    """Return the unit as people write it."""
    return SAID.get(unit or "", unit or "")


def convert(value: float, unit: str, to: str) -> float:
    """Return *value* in the unit *to*.

    Raises InputError when the two are not of one quantity.
    """
    times, over = _factor(unit, to)
    return value * times / over


@lru_cache(maxsize=256)
def _factor(unit: str, to: str) -> tuple[float, float]:
    given, wanted = UNITS[unit], UNITS[to]
    if given.quantity != wanted.quantity:
        message = say(
            "fault.other_quantity", unit=said_unit(unit), quantity=wanted.quantity
        )
        raise InputError(Fault(field="unit", message=message))
    return given.times * wanted.over, given.over * wanted.times

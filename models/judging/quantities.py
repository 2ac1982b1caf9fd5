"""Units: the symbols people type, the quantity they belong to, conversion."""

from dataclasses import dataclass
from functools import lru_cache

from models.errors import Fault, InputError
from models.words import say

RESISTANCE, TIME, PRESSURE = "resistance", "time", "pressure"
CAPACITANCE, SHOWN = "capacitance", "shown value"
CHARGE = "charge"
VOLTAGE, CURRENT, POWER = "voltage", "current", "power"
TEMPERATURE, DIFFERENCE = "temperature", "temperature difference"
TORQUE, LENGTH, ANGLE, LEVEL = "torque", "length", "angle", "level"
SHARE, FRACTION, FREQUENCY = "share", "volume fraction", "frequency"
SPEED, RATIO, TURNS = "speed", "ratio", "turns ratio"
MASS, LOSS = "mass", "loss"


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit of a quantity: a value less *zero*, times *times* over *over*.

    That is the value in the quantity's first unit; *zero* is where that one's own zero
    lies on this unit's scale. A difference of two values knows no zero: degC and K are
    two quantities.
    """

    quantity: str
    times: float = 1.0
    over: float = 1.0
    zero: float = 0.0


# Exact powers of ten but for the torr: 101 325 Pa / 760 (SI brochure, 9th edition,
# note).
FIRST_UNITS: dict[str, Unit] = {
    "uOhm": Unit(RESISTANCE, 1.0, 1e12),
    "mOhm": Unit(RESISTANCE, 1.0, 1e9),
    "Ohm": Unit(RESISTANCE, 1.0, 1e6),
    "kOhm": Unit(RESISTANCE, 1.0, 1e3),
    "MOhm": Unit(RESISTANCE),
    "GOhm": Unit(RESISTANCE, 1e3),
    "TOhm": Unit(RESISTANCE, 1e6),
    "s": Unit(TIME),
    "ms": Unit(TIME, 1.0, 1e3),
    "Pa": Unit(PRESSURE),
    "mbar": Unit(PRESSURE, 100.0),
    "Torr": Unit(PRESSURE, 101325.0, 760.0),
}
# Those that came with rules of version 3. Pressures are absolute. The pound is
# 0.45359237 kg, the inch 25.4 mm (international yard and pound agreement, 1959),
# standard gravity 9.80665 m/s2 (CGPM 1901); degF by definition.
POUND_FORCE = 4.4482216152605  # N: 0.45359237 x 9.80665
NEWER_UNITS: dict[str, Unit] = {
    "min": Unit(TIME, 60.0),
    "h": Unit(TIME, 3600.0),
    "uPa": Unit(PRESSURE, 1.0, 1e6),
    "mPa": Unit(PRESSURE, 1.0, 1e3),
    "hPa": Unit(PRESSURE, 100.0),
    "kPa": Unit(PRESSURE, 1e3),
    "bar": Unit(PRESSURE, 1e5),
    "MPa": Unit(PRESSURE, 1e6),
    "psi": Unit(PRESSURE, POUND_FORCE, 0.00064516),
    "V": Unit(VOLTAGE),
    "mV": Unit(VOLTAGE, 1.0, 1e3),
    "kV": Unit(VOLTAGE, 1e3),
    "A": Unit(CURRENT),
    "uA": Unit(CURRENT, 1.0, 1e6),
    "mA": Unit(CURRENT, 1.0, 1e3),
    "kA": Unit(CURRENT, 1e3),
    "mW": Unit(POWER, 1.0, 1e3),
    "W": Unit(POWER),
    "kW": Unit(POWER, 1e3),
    "degC": Unit(TEMPERATURE),
    "degF": Unit(TEMPERATURE, 5.0, 9.0, 32.0),
    "K": Unit(DIFFERENCE),
    "Nm": Unit(TORQUE),
    "lb-ft": Unit(TORQUE, POUND_FORCE * 0.3048),
    "mm": Unit(LENGTH),
    "cm": Unit(LENGTH, 10.0),
    "m": Unit(LENGTH, 1e3),
    "in": Unit(LENGTH, 25.4),
    "ft": Unit(LENGTH, 304.8),
    "m/s": Unit(SPEED),
    "ft/s": Unit(SPEED, 0.3048),
    "deg": Unit(ANGLE),
    "dB": Unit(LEVEL),
    "%": Unit(SHARE),
    "ppmv": Unit(FRACTION),
    "Hz": Unit(FREQUENCY),
    "pF": Unit(CAPACITANCE),
    "nF": Unit(CAPACITANCE, 1e3),
    "uF": Unit(CAPACITANCE, 1e6),
    "pC": Unit(CHARGE),
    "nC": Unit(CHARGE, 1e3),
    "as_shown": Unit(SHOWN),  # by a meter, in the unit of its reference
    "kg": Unit(MASS),
    "lb": Unit(MASS, 0.45359237),
    "%/year": Unit(LOSS),
    "1e-3": Unit(RATIO, 1.0, 1e3),
    ":1": Unit(TURNS),  # primary over secondary
}
UNITS: dict[str, Unit] = {**FIRST_UNITS, **NEWER_UNITS}
SINCE_3 = frozenset(NEWER_UNITS)

# Greek omega, ohm sign, micro sign, Greek mu: all of them are typed.
_TYPED = (("\u03a9", "Ohm"), ("\u2126", "Ohm"), ("\u00b5", "u"), ("\u03bc", "u"))

SPELLINGS = {
    "torr": "Torr",
    "pa": "Pa",
    "sec": "s",
    "msec": "ms",
    "°C": "degC",
    "℃": "degC",
    "°F": "degF",
    "℉": "degF",
    "°": "deg",
    "N·m": "Nm",
    "N⋅m": "Nm",
    "N.m": "Nm",
    "lbf·ft": "lb-ft",
    "lb·ft": "lb-ft",
    "lbft": "lb-ft",
    "ft-lb": "lb-ft",
    "×10⁻³": "1e-3",
}

SAID = {
    ":1": ": 1",
    "1e-3": "× 10⁻³",
    "uOhm": "µΩ",
    "mOhm": "mΩ",
    "Ohm": "Ω",
    "kOhm": "kΩ",
    "MOhm": "MΩ",
    "GOhm": "GΩ",
    "TOhm": "TΩ",
    "uA": "µA",
    "uPa": "µPa",
    "degC": "°C",
    "degF": "°F",
    "deg": "°",
    "Nm": "N·m",
    "uF": "µF",
    "as_shown": "",
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
    name = SPELLINGS.get(name, name)
    return name if name in UNITS else None


def said_unit(unit: str | None) -> str:
    """Return the unit as people write it."""
    return SAID.get(unit or "", unit or "")


def convert(value: float, unit: str, to: str) -> float:
    """Return *value* in the unit *to*.

    Raises InputError when the two are not of one quantity.
    """
    times, over, given_zero, wanted_zero = _conversion(unit, to)
    if given_zero == wanted_zero:
        return value * times / over
    return (value - given_zero) * times / over + wanted_zero


def convert_difference(value: float, unit: str, to: str) -> float:
    """Return a difference of two values, as U is one, in the unit *to*.

    Raises InputError when the two are not of one quantity.
    """
    times, over, _, _ = _conversion(unit, to)
    return value * times / over


@lru_cache(maxsize=1024)
def _conversion(unit: str, to: str) -> tuple[float, float, float, float]:
    """Return what a value is multiplied and divided by, and the two zeros."""
    given, wanted = UNITS[unit], UNITS[to]
    if given.quantity != wanted.quantity:
        message = say(
            "fault.other_quantity", unit=said_unit(unit), quantity=wanted.quantity
        )
        raise InputError(Fault(field="unit", message=message))
    times, over = given.times * wanted.over, given.over * wanted.times
    return times, over, given.zero, wanted.zero

"""Units of fields: what people write, and how one is converted to another.

Those that a reading itself may have are judging's; the others stand here. Factors
are exact by definition (NIST SP 811, appendix B) but for the inch of mercury, which
is the conventional one.
"""

from collections.abc import Mapping
from functools import lru_cache

from models.errors import Fault, InputError
from models.judging.quantities import SAID as SAID_OF_READINGS
from models.judging.quantities import UNITS as UNITS_OF_READINGS
from models.judging.quantities import Unit, unit_name
from models.words import say

CYCLES = "cycles"  # of the rated frequency, which has to be known

UNITS: Mapping[str, Unit] = {
    **UNITS_OF_READINGS,
    "min": Unit("time", 60.0),
    "h": Unit("time", 3600.0),
    "d": Unit("time", 86400.0),
    CYCLES: Unit("time", 1.0),  # over the frequency
    "hPa": Unit("pressure", 100.0),
    "kPa": Unit("pressure", 1e3),
    "MPa": Unit("pressure", 1e6),
    "bar": Unit("pressure", 1e5),
    "psi": Unit("pressure", 4.4482216152605, 0.00064516),
    "inHg": Unit("pressure", 3386.389),
    "degC": Unit("temperature", 1.0),
    "degF": Unit("temperature", 5.0, 9.0),
    "K": Unit("temperature difference", 1.0),
    "V": Unit("voltage", 1.0),
    "mV": Unit("voltage", 1.0, 1e3),
    "kV": Unit("voltage", 1e3),
    "A": Unit("current", 1.0),
    "mA": Unit("current", 1.0, 1e3),
    "kA": Unit("current", 1e3),
    "W": Unit("power", 1.0),
    "kW": Unit("power", 1e3),
    "MW": Unit("power", 1e6),
    "kvar": Unit("reactive power", 1.0),
    "Mvar": Unit("reactive power", 1e3),
    "VA": Unit("apparent power", 1.0),
    "mm": Unit("length", 1.0, 1e3),
    "m": Unit("length", 1.0),
    "in": Unit("length", 254.0, 1e4),
    "ft": Unit("length", 3048.0, 1e4),
    "m/s": Unit("speed", 1.0),
    "ft/s": Unit("speed", 3048.0, 1e4),
    "m3": Unit("volume", 1.0),
    "L": Unit("volume", 1.0, 1e3),
    "kg": Unit("mass", 1.0),
    "lb": Unit("mass", 0.45359237),
    "Nm": Unit("torque", 1.0),
    "lb-ft": Unit("torque", 4.4482216152605 * 3048.0, 1e4),
    "g": Unit("acceleration", 9.80665),
    "m/s2": Unit("acceleration", 1.0),
    "%": Unit("share", 1.0),
    "1e-3": Unit("small share", 1.0),
    "ppmv": Unit("share of volume", 1.0),
    "dB": Unit("level", 1.0),
    "deg": Unit("angle", 1.0),
    "Hz": Unit("frequency", 1.0),
    "x pickup": Unit("multiple", 1.0),
}
# What the scale shows where the quantity's first unit shows zero.
ZERO_AT: Mapping[str, float] = {"degF": 32.0}

SAID: Mapping[str, str] = {
    **SAID_OF_READINGS,
    "degC": "°C",
    "degF": "°F",
    "m3": "m³",
    "m/s2": "m/s²",
    "Nm": "N·m",
    "x pickup": "× pickup",
}
# Codes of the Unified Code for Units of Measure (ucum.org) that differ from our names.
UCUM: Mapping[str, str] = {
    "degC": "Cel",
    "degF": "[degF]",
    "psi": "[psi]",
    "inHg": "[in_i'Hg]",
    "in": "[in_i]",
    "ft": "[ft_i]",
    "ft/s": "[ft_i]/s",
    "lb": "[lb_av]",
    "lb-ft": "[lbf_av].[ft_i]",
    "Nm": "N.m",
    "g": "[g]",
    "ppmv": "[ppm]",
    "1e-3": "10*-3",
    "x pickup": "1",
    "VA": "V.A",
    "kvar": "kV.A",
    "Mvar": "MV.A",
}
_NAMED = {said: name for name, said in SAID.items()}


def said(unit: str) -> str:
    """Return the unit as people write it."""
    return SAID.get(unit, unit)


def ucum(unit: str) -> str:
    """Return the code by which programs know a unit; empty for a pure number."""
    return UCUM.get(unit, unit)


def named(symbol: str) -> str | None:
    """Return our name of the unit that *symbol* stands for, or None."""
    text = symbol.strip()
    name = _NAMED.get(text, text)
    return name if name in UNITS else unit_name(text)


def convert(value: float, unit: str, to: str, hz: float | None = None) -> float:
    """Return *value* in the unit *to*; *hz* is needed where one of them is cycles.

    Raises InputError when the two are not of one quantity, or *hz* is not known.
    """
    times, over = _factor(unit, to)
    if CYCLES in (unit, to) and unit != to:
        if not hz:
            raise InputError(Fault(field="unit", message=say("field.cycles")))
        times, over = (times, over * hz) if unit == CYCLES else (times * hz, over)
    return (value - ZERO_AT.get(unit, 0.0)) * times / over + ZERO_AT.get(to, 0.0)


def conversion(unit: str, to: str) -> tuple[float, float, float, float]:
    """Return what converts a value: less this, times that, over this, plus the last.

    Raises InputError when the two are not of one quantity.
    """
    return ZERO_AT.get(unit, 0.0), *_factor(unit, to), ZERO_AT.get(to, 0.0)


@lru_cache(maxsize=512)
def _factor(unit: str, to: str) -> tuple[float, float]:
    given, wanted = UNITS[unit], UNITS[to]
    if given.quantity != wanted.quantity:
        quantity = wanted.quantity
        message = say("fault.other_quantity", unit=said(unit), quantity=quantity)
        raise InputError(Fault(field="unit", message=message))
    return given.times * wanted.over, given.over * wanted.times

"""Numbers for people: rounded to be read, alike in Python and JavaScript.

Rounding is that of IEEE 754 decimal conversion: the exact binary value to the
nearest, an exact tie to the even digit.
"""

import math
from functools import lru_cache

from models.judging.quantities import UNITS, convert_difference, said_unit

DIGITS = 4  # significant digits shown in a working
SETTING_DIGITS = 10  # enough for any setting or published limit
FACTOR_DIGITS = 6  # a factor with more of them was worked out, and not written
SMALLEST_PLAIN = -5  # decimal exponent below which a figure is written with e

WHOLE = 1e15  # from here on nothing that is said stands behind the point

# Significant digits -> the format that shows as many, trailing zeros too.
_FORMS = tuple(f"#.{digits}g" for digits in range(SETTING_DIGITS + 1))
_SETTING_FORM = f".{SETTING_DIGITS}g"

SAID_AS = ">"  # between a base unit and the unit in which its values are said

# unit -> (from this value on, shown in, divided by), largest first
STEPS: dict[str, tuple[tuple[float, str, float], ...]] = {
    "MOhm": ((1e6, "TOhm", 1e6), (1e3, "GOhm", 1e3)),
    "uOhm": ((1e6, "Ohm", 1e6), (1e3, "mOhm", 1e3)),
}


def figure(value: float, digits: int = DIGITS) -> str:
    """Return *value* with *digits* significant digits."""
    if value == 0:
        return "0"
    if math.isinf(value):  # a quotient of two that no instrument shows
        return "∞" if value > 0 else "-∞"
    shown = format(value, _FORMS[digits])
    if "e" not in shown:  # most values; what follows takes twice as long
        return shown.removesuffix(".")
    mantissa, tail = f"{value:.{digits - 1}e}".split("e")
    exponent = int(tail)
    if exponent < SMALLEST_PLAIN:
        return f"{mantissa}e{exponent}"
    if exponent < digits:
        return f"{value:.{digits - 1 - exponent}f}"
    return mantissa.replace(".", "") + "0" * (exponent - digits + 1)


@lru_cache(maxsize=8192)
def plain(value: float) -> str:
    """Return *value* as a setting is written: 27, 2.5, 0.035."""
    if value == 0:
        return "0"
    shown = format(value, _SETTING_FORM)
    if "e" not in shown and not math.isinf(value):
        return shown
    text = figure(value, SETTING_DIGITS)
    mantissa, e, exponent = text.partition("e")
    if "." in mantissa:
        mantissa = mantissa.rstrip("0").rstrip(".")
    return mantissa + e + exponent


@lru_cache(maxsize=1024)
def as_factor(value: float) -> str:
    """Return a factor as it was written; one that was worked out with four digits."""
    written = plain(value)
    digits = written.partition("e")[0].lstrip("-").replace(".", "").lstrip("0")
    if len(digits) <= FACTOR_DIGITS:
        return written
    mantissa, e, exponent = figure(value).partition("e")
    if "." in mantissa:
        mantissa = mantissa.rstrip("0").rstrip(".")
    return mantissa + e + exponent


def tenths(value: float) -> str:
    """Return *value* to one decimal place, a half upwards, without a trailing 0."""
    if abs(value) >= WHOLE:
        return plain(value)
    return plain(math.floor(10 * value + 0.5) / 10)


@lru_cache(maxsize=64)
def unit_words(shown: str) -> str:
    """Return the unit with the space that goes before it, or nothing."""
    said = said_unit(shown)
    return f" {said}" if said else ""


def said_as(unit: str, said: str | None) -> str:
    """Return a base unit with the unit that its values are said in, or it alone."""
    return f"{unit}{SAID_AS}{said}" if said else unit


@lru_cache(maxsize=64)
def _one(said: str, base: str) -> float:
    """Return how many of *base* one of *said* is; of a unit that is only a word 1."""
    known = said in UNITS and base in UNITS
    if not known or UNITS[said].quantity != UNITS[base].quantity:
        return 1.0
    return convert_difference(1.0, said, base)


def scale_for(value: float, unit: str) -> tuple[str, float]:
    """Return the unit in which a value of *unit* is said, and what divides it."""
    base, _, said = unit.partition(SAID_AS)
    if said:
        return unit_words(said), _one(said, base)
    for start, shown, over in STEPS.get(unit, ()):
        if abs(value) >= start:
            return unit_words(shown), over
    return unit_words(unit), 1.0


@lru_cache(maxsize=8192)
def amount(value: float, unit: str, beside: float | None = None) -> str:
    """Return a value of a base unit in the unit in which people say it.

    What stands beside another value, as U does, is said in the unit of that one.
    """
    words, over = scale_for(value if beside is None else beside, unit)
    return figure(value / over) + words


def written(value: float, unit: str) -> str:
    """Return a setting or a limit with its unit as it was written: 120 V."""
    words, over = scale_for(0.0, unit)
    return f"{plain(value / over)}{words}"

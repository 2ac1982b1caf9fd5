"""Numbers for people: rounded to be read, alike in Python and JavaScript."""

from decimal import ROUND_HALF_UP, Decimal, localcontext

from models.judging.quantities import said_unit

DIGITS = 4  # significant digits shown in a working
SMALLEST_PLAIN = -5  # decimal exponent below which a figure is written with e

# unit -> (from this value on, shown in, divided by), largest first
STEPS: dict[str, tuple[tuple[float, str, float], ...]] = {
    "MOhm": ((1e6, "TOhm", 1e6), (1e3, "GOhm", 1e3)),
    "uOhm": ((1e6, "Ohm", 1e6), (1e3, "mOhm", 1e3)),
}


def figure(value: float, digits: int = DIGITS) -> str:
    """Return *value* with *digits* significant digits, halves rounded away from zero."""
    if value == 0:
        return "0"
    exact = Decimal(value)
    with localcontext() as context:
        context.prec = 60
        exponent = exact.adjusted()
        quantum = Decimal(1).scaleb(exponent - digits + 1)
        rounded = exact.quantize(quantum, rounding=ROUND_HALF_UP)
        if rounded.adjusted() > exponent:
            exponent += 1
            rounded = rounded.quantize(Decimal(1).scaleb(exponent - digits + 1))
        if exponent < SMALLEST_PLAIN:
            return f"{rounded.scaleb(-exponent):f}e{exponent}"
        return f"{rounded:f}"


def plain(value: float) -> str:
    """Return *value* as a setting is written: 27, 2.5, 0.035."""
    text = figure(value, 10)
    if "e" in text or "." not in text:
        return text
    return text.rstrip("0").rstrip(".")


def amount(value: float, unit: str) -> str:
    """Return a value of a base unit in the unit in which people say it."""
    for start, shown, over in STEPS.get(unit, ()):
        if abs(value) >= start:
            return f"{figure(value / over)} {said_unit(shown)}"
    return f"{figure(value)} {said_unit(unit)}"

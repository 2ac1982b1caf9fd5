"""Moisture of a gas: from one pressure to another by the water that it holds."""

import math
from collections.abc import Mapping
from typing import NamedTuple

from models.judging.measured import Measured, Named
from models.judging.parts import Part

FROST_POINT, PPMV, PA = "frost_point", "ppmv", "pa"
FORMS: Mapping[str, str] = {FROST_POINT: "degC", PPMV: "ppmv", PA: "Pa"}
PA_PER_KPA = 1000.0
PPM = 1e6


class Vapour(NamedTuple):
    """Water in a gas: Pa where it was measured, ppm by volume, Pa where it is wanted.

    *value* is in the form that is wanted. A pressure is None where it is not needed.
    """

    value: float
    share: float
    there: float | None
    here: float | None


def over_ice_pa(part: Part, celsius: float) -> float:
    """Return the pressure of water over ice, in Pa: e0 exp(a T / (b + T))."""
    power = part["a"] * celsius / (part["b_c"] + celsius)
    return float(part["e0_pa"] * math.exp(power))


def frost_point_c(part: Part, pascal: float) -> float:
    """Return the frost point in degC of water at a pressure; infinite beyond any."""
    power = math.log(pascal / part["e0_pa"])
    if power >= part["a"]:
        return math.inf
    return float(part["b_c"] * power / (part["a"] - power))


def steepness(part: Part, celsius: float) -> float:
    """Return d ln(e) / dT over ice, per K."""
    return float(part["a"] * part["b_c"] / (part["b_c"] + celsius) ** 2)


def vapour_at(part: Part, x: float, at_kpa: float | None) -> Vapour | None:
    """Return what *x* comes to; None where it cannot be worked out."""
    there = _there_pa(part, x)
    if part["from"] == PPMV:
        share = x
    elif there is None or at_kpa is None or not at_kpa > 0:
        return None
    else:
        share = PPM * there / (at_kpa * PA_PER_KPA)
    if not share > 0:
        return None
    to_kpa = part.get("to_kpa")
    here = None if to_kpa is None else share / PPM * to_kpa * PA_PER_KPA
    if part["to"] == PPMV:
        return Vapour(share, share, there, here)
    if here is None:
        return None
    value = here if part["to"] == PA else frost_point_c(part, here)
    return Vapour(value, share, there, here) if math.isfinite(value) else None


def _there_pa(part: Part, x: float) -> float | None:
    """Return the pressure of the water at the meter; None of a share, and beyond."""
    if part["from"] == PPMV:
        return None
    if part["from"] == PA:
        return x
    return over_ice_pa(part, x) if part["from_c"] <= x <= part["to_c"] else None


def vapour_of(part: Part, x: Measured | None, named: Named) -> Measured | None:
    """Return a moisture in another form, or at another pressure; U by derivatives.

    GUM 5.1.2 with the relative U of the water's pressure: over ice the steepness times
    that of the frost point, and that of the pressure at which it was taken.
    """
    at = named(part["at"]) if "at" in part else None
    if x is None or (part["from"] != PPMV and at is None):
        return None
    at_kpa = None if at is None else at.shown
    found = vapour_at(part, x.shown, at_kpa)
    if found is None:
        return None
    signed = part["to"] == FROST_POINT
    nothing = -math.inf if signed else 0.0

    def work(end: float) -> float:
        if end == x.shown:
            return found.value
        if math.isinf(end):
            return nothing if end < 0 else end
        one = vapour_at(part, end, at_kpa)
        return nothing if one is None else one.value

    return Measured(
        work(x.low),
        work(x.high),
        found.value,
        expanded=_expanded(part, x, at, found),
        unit=FORMS[part["to"]],
        signed=signed,
    )


def _expanded(
    part: Part, x: Measured, at: Measured | None, found: Vapour
) -> float | None:
    of_pressure = None if at is None or part["from"] == PPMV else at.relative
    if x.expanded is None and of_pressure is None:
        return None
    by = steepness(part, x.shown) if part["from"] == FROST_POINT else 1 / x.shown
    relative = math.hypot(by * (x.expanded or 0.0), of_pressure or 0.0)
    if part["to"] == FROST_POINT:
        return relative / steepness(part, found.value)
    return relative * found.value

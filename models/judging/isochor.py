"""The correction of a gas pressure to 20 degC: a closed tank keeps its density."""

import math
from collections.abc import Mapping
from functools import lru_cache
from typing import Any, NamedTuple

from models.judging.accuracy import COVERAGE
from models.judging.gas import GasEquation
from models.judging.measured import Measured, Named
from models.judging.near import finite
from models.judging.state import State

COEFFICIENTS = ("r", "a0", "a", "b0", "b", "from_c", "to_c", "densest")
UNIT = "kPa"


class Carried(NamedTuple):
    """A pressure at the reference temperature, and the density behind it.

    *whole*: whether U of the gauge and of the thermometer are both known.
    """

    value: Measured
    density: float
    whole: bool


class Refused(NamedTuple):
    """Why there is no such gas: the id of the sentence, and its numbers."""

    code: str
    numbers: Mapping[str, float]


@lru_cache(maxsize=64)
def _equation(numbers: tuple[float, ...], saturation: Any) -> GasEquation:
    known = dict(zip(COEFFICIENTS, numbers, strict=True))
    return GasEquation(**known, saturation=saturation)


def equation_of(correction: Mapping[str, Any]) -> GasEquation:
    """Return the equation of state that a rule's correction holds."""
    points = tuple(map(tuple, correction.get("saturation", ())))
    return _equation(tuple(correction[name] for name in COEFFICIENTS), points)


def temperature_of(state: State, name: str, named: Named) -> Measured | None:
    """Return a temperature in degC, with U of the thermometer where it is known.

    By the accuracy of that condition, else by the half-width that the condition
    `thermometer` of the correction names: rectangular, k = 2 (GUM 4.3.7, 6.2).
    """
    found, half = named(name), state.conditions.get(_thermometer(state))
    if found is None or found.expanded is not None or half is None:
        return found
    if state.rule.decision == "simple" or not finite(half):
        return found
    u = COVERAGE * half / math.sqrt(3.0)
    return Measured(
        found.low, found.high, found.shown, expanded=u, unit="degC", signed=True
    )


def _thermometer(state: State) -> str:
    name: str = state.rule.correction.get("thermometer", "")
    return name


def refusal(
    correction: Mapping[str, Any], pressure: Measured, temperature_c: float
) -> Refused | None:
    """Return why a pressure (kPa absolute) is not carried; None where it is.

    With U it must not reach what a liquid beside its vapour would show: a tank in
    which gas has condensed shows the saturation pressure, whatever it holds.
    """
    equation, kpa = equation_of(correction), pressure.shown
    at = {"temperature": temperature_c}
    if not equation.from_c <= temperature_c <= equation.to_c:
        ends = {"coldest": equation.from_c, "hottest": equation.to_c}
        return Refused("gas.temperature", at | ends)
    if not kpa > 0:
        return Refused("gas.no_pressure", {})
    numbers = at | {"pressure": kpa}
    most = equation.saturation_kpa(temperature_c)
    if most is not None and kpa + (pressure.expanded or 0.0) >= most:
        return Refused("gas.condensing", numbers | {"most": most})
    if equation.pressure_kpa(equation.densest, temperature_c) < kpa:
        return Refused("gas.too_dense", numbers | {"densest": equation.densest})
    return None


def carry(
    correction: Mapping[str, Any], pressure: Measured, at: Measured
) -> Carried | None:
    """Carry an absolute pressure in kPa to the reference temperature; None: refused.

    U by the derivatives at constant density (GUM 5.1.2): dP20/dp = f_d(20) / f_d(T),
    dP20/dT = -f_T f_d(20) / f_d(T), for P = f(d, T).
    """
    celsius, to_c = at.shown, correction["reference_c"]
    if refusal(correction, pressure, celsius) is not None:
        return None
    equation = equation_of(correction)

    def work(kpa: float) -> float:
        if not 0 < kpa < math.inf:
            return kpa
        return equation.pressure_kpa(equation.solve(kpa, celsius), to_c)

    density = equation.solve(pressure.shown, celsius)
    slope = equation.by_density(density, to_c) / equation.by_density(density, celsius)
    by_heat = slope * equation.by_temperature(density)
    both = (pressure.expanded, at.expanded)
    expanded = None
    if both != (None, None):
        expanded = math.hypot(slope * (both[0] or 0.0), by_heat * (both[1] or 0.0))
    shown = equation.pressure_kpa(density, to_c)
    low, high = (
        shown if end == pressure.shown else work(end)
        for end in (pressure.low, pressure.high)
    )
    value = Measured(
        low, high, shown, expanded=expanded, unit=UNIT, signed=pressure.signed
    )
    return Carried(value, density, None not in both)

"""Gas pressures along constant density, in columns: the correction of `isochor.py`."""

from typing import Any

import numpy as np

from models.judging.accuracy import COVERAGE
from models.judging.batch.codes import Mask, Numbers
from models.judging.batch.measured import Measured
from models.judging.batch.state import State
from models.judging.gas import HALVINGS, GasEquation
from models.judging.isochor import equation_of


def carry_readings(state: State) -> Mask:
    """Carry the readings to the reference temperature; return where that failed."""
    correction = state.rule.correction
    of = state.value(correction.get("of"))
    found, state.whole = carry(state, of, temperature_of(state, "temperature_c"))
    found.expanded = np.where(
        np.isnan(found.shown), state.measured.expanded, found.expanded
    )
    state.measured = found
    return np.asarray(state.number & np.isnan(found.shown))


def temperature_of(state: State, name: str) -> Measured:
    """Return temperatures in degC, with U of the thermometer where it is known."""
    found = state.value(name)
    half = state.value(state.rule.correction.get("thermometer", "thermometer")).shown
    if state.rule.decision == "simple":
        return found
    u = COVERAGE * half / np.sqrt(3.0)
    expanded = np.where(np.isnan(found.expanded), u, found.expanded)
    return Measured(found.low, found.high, found.shown, expanded=expanded, signed=True)


def carry(state: State, pressure: Measured, at: Measured) -> tuple[Measured, Mask]:
    """Return pressures at the reference temperature, and where U of both is known.

    NaN where `isochor.refusal` gives a reason.
    """
    correction: Any = state.rule.correction
    equation, to = equation_of(correction), np.float64(correction["reference_c"])
    celsius = at.shown
    holds = _is_gas(equation, pressure, celsius)
    density = _solve(equation, pressure.shown, celsius)
    shown = _pressure(equation, density, to)
    by_density = _by_density(equation, density, to)
    slope = by_density / _by_density(equation, density, celsius)
    by_heat = slope * np.asarray(equation.by_temperature(density))  # type: ignore[arg-type]
    known = ~(np.isnan(pressure.expanded) & np.isnan(at.expanded))
    expanded = np.hypot(slope * pressure.guard, by_heat * at.guard)
    low, high = (
        np.where(end == pressure.shown, shown, _carried(equation, end, celsius, to))
        for end in (pressure.low, pressure.high)
    )
    low, high, shown = (np.where(holds, one, np.nan) for one in (low, high, shown))
    value = Measured(
        low,
        high,
        shown,
        expanded=np.where(known & holds, expanded, np.nan),
        signed=pressure.signed,
    )
    return value, ~(np.isnan(pressure.expanded) | np.isnan(at.expanded))


def _is_gas(equation: GasEquation, pressure: Measured, celsius: Numbers) -> Mask:
    inside = (celsius >= equation.from_c) & (celsius <= equation.to_c)
    dense = _pressure(equation, np.float64(equation.densest), celsius)
    holds = inside & (pressure.shown > 0) & (dense >= pressure.shown)
    if len(equation.saturation) > 1:
        points, kpa = np.array(equation.saturation, np.float64).T
        logs = np.interp(celsius, points, np.log(kpa), left=np.nan, right=np.nan)
        most = np.exp(logs)
        holds &= ~(pressure.shown + pressure.guard >= most)
    return np.asarray(holds)


def _pressure(
    equation: GasEquation, density: Numbers | np.float64, celsius: Numbers | np.float64
) -> Numbers:
    return np.asarray(equation.pressure_kpa(density, celsius))  # type: ignore[arg-type]


def _by_density(
    equation: GasEquation, density: Numbers, celsius: Numbers | np.float64
) -> Numbers:
    return np.asarray(equation.by_density(density, celsius))  # type: ignore[arg-type]


def _solve(equation: GasEquation, kpa: Numbers, celsius: Numbers) -> Numbers:
    """Return the densities: the pressure grows with them, so that halving finds it."""
    low = np.zeros(np.shape(kpa))
    high = np.full(np.shape(kpa), equation.densest)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        below = _pressure(equation, middle, celsius) < kpa
        low, high = np.where(below, middle, low), np.where(below, high, middle)
    return np.asarray((low + high) / 2)


def _carried(
    equation: GasEquation, kpa: Numbers, celsius: Numbers, to: np.float64
) -> Numbers:
    carried = _pressure(equation, _solve(equation, kpa, celsius), to)
    return np.where((kpa > 0) & np.isfinite(kpa), carried, kpa)

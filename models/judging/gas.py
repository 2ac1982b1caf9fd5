"""Gas in a sealed tank: its pressure along a line of constant density."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from models.errors import Fault, InputError
from models.judging.wording import figure, plain
from models.words import say

ZERO_C = 273.15  # K
PA_PER_KPA = 1000.0
# Within these the outside tests hold the equation to the reference equation of state.
COLDEST_C, HOTTEST_C = -30.0, 60.0
DENSEST = 50.0  # kg/m3
HALVINGS = 60  # of the interval of densities: to the last bit of a double


@dataclass(frozen=True, slots=True, kw_only=True)
class GasEquation:
    """Beattie-Bridgeman form: P = R d T (1 + B) - A d^2.

    A = a0 (1 - a d), B = b0 d (1 - b d); P in Pa, d in kg/m3, T in K.
    *saturation*: (degC, kPa absolute) above which the gas is a liquid, ascending.
    With a0 and b0 zero it is the ideal gas. *from_c*, *to_c* and *densest* (kg/m3) are
    what it is held to.
    """

    r: float
    a0: float
    a: float
    b0: float
    b: float
    saturation: Sequence[Sequence[float]] = ()
    from_c: float = COLDEST_C
    to_c: float = HOTTEST_C
    densest: float = DENSEST

    def pressure_kpa(self, density: float, temperature_c: float) -> float:
        """Return the absolute pressure in kPa."""
        kelvin = temperature_c + ZERO_C
        a, b = self.attraction(density), self.volume(density)
        pascal = self.r * density * kelvin * (1 + b) - a * density**2
        return pascal / PA_PER_KPA

    def attraction(self, density: float) -> float:
        """Return A."""
        return self.a0 * (1 - self.a * density)

    def volume(self, density: float) -> float:
        """Return B."""
        return self.b0 * density * (1 - self.b * density)

    def by_density(self, density: float, temperature_c: float) -> float:
        """Return by how much the pressure grows with the density, in kPa m3/kg."""
        kelvin = temperature_c + ZERO_C
        repelled = 1 + 2 * self.b0 * density - 3 * self.b0 * self.b * density**2
        attracted = 2 * self.a0 * density - 3 * self.a0 * self.a * density**2
        return (self.r * kelvin * repelled - attracted) / PA_PER_KPA

    def by_temperature(self, density: float) -> float:
        """Return by how much the pressure grows with the temperature, in kPa/K."""
        return self.r * density * (1 + self.volume(density)) / PA_PER_KPA

    def density(self, pressure_kpa: float, temperature_c: float) -> float:
        """Return the density in kg/m3 of gas at an absolute pressure.

        Raises InputError (fields `pressure`, `temperature_c`, `to_c`: see `check_gas`)
        beyond what the equation is held to.
        """
        self.check_gas(pressure_kpa, temperature_c)
        if self.pressure_kpa(self.densest, temperature_c) < pressure_kpa:
            raise _too_dense(pressure_kpa, temperature_c, self.densest)
        return self.solve(pressure_kpa, temperature_c)

    def solve(self, pressure_kpa: float, temperature_c: float) -> float:
        """Return the density at a pressure that `density` does not refuse.

        The pressure grows with the density, so that halving finds it.
        """
        low, high = 0.0, self.densest
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            if self.pressure_kpa(middle, temperature_c) < pressure_kpa:
                low = middle
            else:
                high = middle
        return (low + high) / 2

    def check_gas(
        self, pressure_kpa: float, temperature_c: float, field: str = "temperature_c"
    ) -> None:
        """Raise InputError where there is no such gas, or nothing is known of it."""
        if not self.from_c <= temperature_c <= self.to_c:
            message = say(
                "gas.temperature",
                coldest=plain(self.from_c),
                hottest=plain(self.to_c),
                temperature=plain(temperature_c),
            )
            raise InputError(Fault(field=field, message=message))
        if not pressure_kpa > 0:
            raise InputError(Fault(field="pressure", message=say("gas.no_pressure")))
        most = self.saturation_kpa(temperature_c)
        if most is not None and pressure_kpa > most:
            message = say(
                "gas.liquid",
                temperature=plain(temperature_c),
                most=figure(most),
                pressure=figure(pressure_kpa),
            )
            raise InputError(Fault(field="pressure", message=message))

    def saturation_kpa(self, temperature_c: float) -> float | None:
        """Return the saturation pressure, joined log-linearly; None beyond the rows.

        Above the last row no tank of this kind reaches it.
        """
        for (low_c, low), (high_c, high) in zip(
            self.saturation, self.saturation[1:], strict=False
        ):
            if low_c <= temperature_c <= high_c:
                share = (temperature_c - low_c) / (high_c - low_c)
                return low * math.exp(share * math.log(high / low))
        return None


def _too_dense(pressure_kpa: float, temperature_c: float, densest: float) -> InputError:
    message = say(
        "gas.too_dense",
        pressure=figure(pressure_kpa),
        temperature=plain(temperature_c),
        densest=plain(densest),
    )
    return InputError(Fault(field="pressure", message=message))


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """A pressure carried to another temperature; pressures in kPa absolute."""

    pressure_kpa: float
    at_c: float
    density: float
    carried_kpa: float
    to_c: float
    working: Sequence[str]


def carry_pressure(
    equation: GasEquation, pressure_kpa: float, at_c: float, to_c: float
) -> Carried:
    """Carry an absolute pressure along the line of constant density.

    Raises InputError as `GasEquation.density` does.
    """
    density = equation.density(pressure_kpa, at_c)
    carried = equation.pressure_kpa(density, to_c)
    equation.check_gas(carried, to_c, "to_c")
    ideal = pressure_kpa * (to_c + ZERO_C) / (at_c + ZERO_C)
    working = [
        say(
            "gas.density",
            pressure=figure(pressure_kpa),
            temperature=plain(at_c),
            density=figure(density, 6),
            equation=equation_words(equation, density, at_c),
        ),
        say(
            "gas.carried",
            temperature=plain(to_c),
            equation=equation_words(equation, density, to_c),
        ),
        say("gas.ideal", pressure=figure(ideal)),
    ]
    return Carried(
        pressure_kpa=pressure_kpa,
        at_c=at_c,
        density=density,
        carried_kpa=carried,
        to_c=to_c,
        working=working,
    )


def equation_words(equation: GasEquation, density: float, temperature_c: float) -> str:
    """Return the equation with its numbers, to be followed with a calculator."""
    kelvin = temperature_c + ZERO_C
    d = figure(density, 6)
    if not equation.a0 and not equation.b0:
        ideal = figure(equation.pressure_kpa(density, temperature_c))
        return f"{plain(equation.r)} × {d} × {plain(kelvin)} Pa = {ideal} kPa"
    return (
        f"{plain(equation.r)} × {d} × {plain(kelvin)} × (1 + "
        f"{figure(equation.volume(density))}) − "
        f"{figure(equation.attraction(density))} × {d}² Pa = "
        f"{figure(equation.pressure_kpa(density, temperature_c))} kPa"
    )

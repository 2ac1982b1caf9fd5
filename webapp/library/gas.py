"""A gas pressure carried to another temperature: from what was typed to the answer."""

from collections.abc import Mapping
from dataclasses import dataclass

from models.criteria.gas import sf6_equation
from models.errors import Fault, InputError
from models.fields import read_value
from models.judging import Criteria, parse_number
from models.judging.gas import (
    COLDEST_C,
    HOTTEST_C,
    Carried,
    GasEquation,
    carry_pressure,
)
from models.judging.wording import figure, plain

# kPa in one unit; psi from the pound-force and the inch: NIST SP 811, appendix B.8.
KPA_PER = {"kPa": 1.0, "bar": 100.0, "MPa": 1000.0, "psi": 6.894757}
BASES = {"absolute": "absolute", "gauge": "gauge"}
REFERENCE_C = "20"
SEA_LEVEL_KPA = "101.325"  # standard atmosphere, ISO 2533
STEP_C = 5
# What is typed here is what these fields hold.
OF_FORM = {
    "temperature_c": "temperature_c",
    "to_c": "temperature_c",
    "air_kpa": "air_pressure_kpa",
}

Typed = Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class GasAnswer:
    """What was asked, carried; pressures are absolute, in kPa and as said."""

    carried: Carried
    said: str
    said_gauge: str | None
    working: list[str]
    line: list[tuple[float, float]]  # (degC, kPa absolute) along the same density


def carry_gas(typed: Typed, criteria: Criteria) -> GasAnswer:
    """Return the answer; InputError with every fault, each at its field."""
    numbers = _numbers(typed)
    equation = sf6_equation(criteria)
    unit = typed["unit"]
    steps: list[str] = []
    read_kpa = numbers["pressure"] * KPA_PER[unit]
    if unit != "kPa":
        steps.append(
            f"{plain(numbers['pressure'])} {unit} × {plain(KPA_PER[unit])} = "
            f"{figure(read_kpa)} kPa."
        )
    air_kpa = numbers["air_kpa"] if typed["basis"] == "gauge" else 0.0
    if air_kpa:
        steps.append(
            f"Absolute: {figure(read_kpa)} kPa gauge + {plain(air_kpa)} kPa of air = "
            f"{figure(read_kpa + air_kpa)} kPa."
        )
    at_c, to_c = numbers["temperature_c"], numbers["to_c"]
    carried = carry_pressure(equation, read_kpa + air_kpa, at_c, to_c)
    said = f"{figure(carried.carried_kpa)} kPa absolute"
    gauge = f"{figure(carried.carried_kpa - air_kpa)} kPa gauge" if air_kpa else None
    return GasAnswer(
        carried=carried,
        said=said,
        said_gauge=gauge,
        working=[*steps, *carried.working],
        line=_line(equation, carried.density),
    )


def _numbers(typed: Typed) -> dict[str, float]:
    faults: list[Fault] = []
    for name, words in (("unit", KPA_PER), ("basis", BASES)):
        if typed.get(name) not in words:
            faults.append(Fault(field=name, message="Choose one of these."))
    wanted = ["pressure", "temperature_c", "to_c"]
    if typed.get("basis") == "gauge":
        wanted.append("air_kpa")
    found: dict[str, float] = {}
    for name in wanted:
        try:
            found[name] = _number(name, typed.get(name, ""))
        except InputError as error:
            faults += [Fault(field=name, message=f.message) for f in error.faults]
    if faults:
        raise InputError(*faults)
    return found


def _number(name: str, text: str) -> float:
    """Return a number of the form; what can be is said by its field, if it has one."""
    return (
        float(read_value(OF_FORM[name], text))
        if name in OF_FORM
        else parse_number(text)
    )


def _line(equation: GasEquation, density: float) -> list[tuple[float, float]]:
    """Return the line of this density, as far as the gas stays a gas."""
    line = []
    for celsius in range(int(COLDEST_C), int(HOTTEST_C) + 1, STEP_C):
        kpa = equation.pressure_kpa(density, celsius)
        most = equation.saturation_kpa(celsius)
        if most is None or kpa <= most:
            line.append((float(celsius), kpa))
    return line

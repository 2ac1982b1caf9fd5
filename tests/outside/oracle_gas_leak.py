"""Gases in tanks by CoolProp: lines of constant density, the leak rates, ice. JSON."""

import json
import math

from CoolProp.CoolProp import PropsSI
from CoolProp.HumidAirProp import HAProps_Aux

ZERO_C = 273.15
NAMES = {"sf6": "SF6", "air": "Air", "nitrogen": "Nitrogen", "carbon_dioxide": "CO2"}
FILLS_KPA = (120, 150, 500)
TEMPERATURES_C = (-30, -20, -10, 0, 10, 30, 40, 50)
U_GAUGE, U_THERMOMETER = 0.5 / math.sqrt(3), 1.0 / math.sqrt(3)


def density(kpa: float, celsius: float, gas: str = "SF6") -> float:
    return float(PropsSI("D", "T", celsius + ZERO_C, "P", kpa * 1e3, gas))


def kpa_at(d: float, celsius: float, gas: str = "SF6") -> float:
    return float(PropsSI("P", "T", celsius + ZERO_C, "D", d, gas) / 1e3)


def relative_u(kpa: float, celsius: float) -> float:
    d = density(kpa, celsius)
    by_heat = (kpa_at(d, celsius + 0.01) - kpa_at(d, celsius - 0.01)) / 0.02
    return math.hypot(U_GAUGE, U_THERMOMETER * by_heat) / kpa


def leak(second: float, hours: float) -> dict[str, float]:
    p1 = kpa_at(density(151.2, 22), 20)
    p2 = kpa_at(density(second, 15), 20)
    both = math.hypot(relative_u(151.2, 22), relative_u(second, 15))
    return {
        "rate": 100 * (p1 - p2) / p1 * 8766 / hours,
        "u": 100 * 8766 / hours * p2 / p1 * both,
        "wait_h": 100 * 8766 * math.sqrt(2) * relative_u(151.2, 22) / 0.1,
    }


lines = [
    [gas, fill, celsius, kpa_at(density(fill, 20, name), celsius, name)]
    for gas, name in NAMES.items()
    for fill in FILLS_KPA
    for celsius in TEMPERATURES_C
]
ice = [
    [t, HAProps_Aux("p_ws", t + ZERO_C, 101325, 0)[0]]
    for t in (-60, -45, -40, -36, -30, -20, -15, -10, -5)
]
leaks = [leak(147.0, 2160), leak(145.0, 2160), leak(147.0, 720)]
print(json.dumps({"lines": lines, "leaks": leaks, "ice": ice}))

"""Saturation pressures of SF6 in kPa absolute, by CoolProp: printed as JSON."""

import json

from CoolProp.CoolProp import PropsSI

CELSIUS = (-50, -40, -30, -20, -10, 0, 20)


def saturation_kpa(celsius: int) -> float:
    """Return the pressure at which vapour and liquid stand beside each other."""
    return PropsSI("P", "T", celsius + 273.15, "Q", 1, "SF6") / 1e3


print(json.dumps({str(celsius): saturation_kpa(celsius) for celsius in CELSIUS}))

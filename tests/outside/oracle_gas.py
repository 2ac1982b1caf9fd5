"""SF6 along lines of constant density, by CoolProp: printed as JSON.

CoolProp evaluates the reference Helmholtz equation of state of SF6 (2009).
"""

import json

from CoolProp.CoolProp import PropsSI

FILLS_KPA = (110, 120, 130, 140, 150, 160, 200, 300, 500)
TEMPERATURES_C = (-30, -20, -10, 0, 5, 10, 15, 25, 30, 40, 50, 60)
ZERO_C = 273.15


def line(fill_kpa: float) -> dict[str, object]:
    density = PropsSI("D", "T", 20 + ZERO_C, "P", fill_kpa * 1e3, "SF6")
    return {
        "fill_kpa": fill_kpa,
        "density": density,
        "at": [
            [t, PropsSI("P", "T", t + ZERO_C, "D", density, "SF6") / 1e3]
            for t in TEMPERATURES_C
        ],
    }


print(json.dumps([line(fill) for fill in FILLS_KPA]))

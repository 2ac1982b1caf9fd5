"""Words of gas: `isochor`, `rate` with `resolve` and `wait_time`, `vapour`.

The numbers are those of the worked tables of the design (6.2, 6.6, 6.9), where the
reference equations of state gave them; the coefficients of SF6 agree with these to
0.09 % of a pressure at 150 kPa.
"""

from typing import Any

from tests.data.golden_case import hand
from tests.data.made_up_gas import (
    ABSOLUTE,
    DENSE,
    FIRST,
    ICE,
    IDEAL,
    RATE,
    SATURATION,
)
from tests.data.word_case import Typed, WordCase, WordProcedure

PRESSURE = WordProcedure(
    name="made_up_pressure", title="Pressure", units=("kPa", "bar", "psi")
)
FROST = WordProcedure(
    name="made_up_frost", title="Frost point", units=("degC", "degF"), signed=True
)
PPMV = WordProcedure(name="made_up_ppmv", title="Moisture", units=("ppmv",))
ALONG: dict[str, Any] = {
    "by": "isochor",
    "of": "absolute",
    "label": "SF6",
    "from_c": -30.0,
    "to_c": 60.0,
    "densest": 50.0,
    "reference_c": 20.0,
    "thermometer": "temperature_accuracy_c",
    "cite": 0,
}
SF6 = {**ALONG, **DENSE, "saturation": SATURATION}
AIR = {**ALONG, **IDEAL, "label": "dry air"}
DENSITY: dict[str, Any] = {
    "correction": SF6,
    "derive": [ABSOLUTE],
    "bounds": [{"kind": "low", "value": 130.0, "cite": 0}],
}
LEAK: dict[str, Any] = {
    "correction": SF6,
    "derive": [ABSOLUTE, FIRST, {**RATE, "first": "first", "gauge": "first_kpa"}],
    "bounds": [
        {
            "kind": "high",
            "of": "rate",
            "unit": "%/year",
            "value": 0.1,
            "resolve": True,
            "cite": 0,
        }
    ],
    "notes": [{"say": "wait_time", "of": "rate", "rates": [0.5, 1.0], "cite": [0]}],
}
MOIST: dict[str, Any] = {
    "derive": [
        {
            "name": "moist",
            "label": "frost point in the tank",
            "op": "vapour",
            "from": "frost_point",
            "at": "sample_kpa",
            "to": "frost_point",
            "to_kpa": 150.0,
            "unit": "degC",
            **ICE,
        }
    ],
    "bounds": [
        {"kind": "high", "of": "moist", "unit": "degC", "value": -5.0, "cite": 0}
    ],
}
SHARE: dict[str, Any] = {
    **MOIST,
    "derive": [{**MOIST["derive"][0], "from": "ppmv"}],
}
GAUGE = {"pressure_as": "gauge"}
FIXED = {"pct": 0.0, "fixed": 0.25, "unit": "kPa"}
FIRST_READING = {"first_kpa": 151.2, "first_c": 22.0, "temperature_accuracy_c": 0.5}
LATER = {**FIRST_READING, "temperature_c": 15.0, "elapsed_h": 2160.0}
AT_REST = {**LATER, "elapsed_h": 90000.0, "temperature_c": 22.0}


def kpa(text: str, accuracy: Any = None, **conditions: Any) -> Typed:
    return Typed(text=text, unit="kPa", accuracy=accuracy, conditions=conditions)


CASES = (
    WordCase(
        name="isochor: gauge readings of SF6 at 20 degC",
        procedure=PRESSURE,
        rule=DENSITY,
        readings=(
            kpa("46.0", temperature_c=31.0, air_pressure_kpa=99.2, **GAUGE),
            kpa("24.0", temperature_c=9.0, air_pressure_kpa=99.2, **GAUGE),
            kpa("46.0", temperature_c=31.0, **GAUGE),
            kpa("142.0", temperature_c=61.0),
            kpa("142.0"),
            kpa("495", temperature_c=-30.0),
            kpa("0", temperature_c=20.0),
            kpa("900", temperature_c=40.0),
            kpa(">142", temperature_c=35.0),
        ),
        by_hand=(
            hand("within", corrected=139.76),
            hand("outside", corrected=128.18),
            hand("unjudged"),
            hand("unjudged"),
            hand("unjudged"),
            hand("unjudged"),
            hand("unjudged"),
            hand("unjudged"),
            hand("within"),
        ),
        why="139.76 and 128.18 kPa by the reference equation; no air pressure; beyond "
        "60 degC; no temperature; above 492.4 kPa at -30 degC it condenses; no gas; "
        "denser than 50 kg/m3; more than the limit whatever it is",
    ),
    WordCase(
        name="isochor: dry air is an ideal gas",
        procedure=PRESSURE,
        rule={**DENSITY, "correction": AIR},
        readings=(
            kpa("142.0", temperature_c=35.0),
            kpa("135", FIXED, temperature_c=35.0, temperature_accuracy_c=0.5),
        ),
        by_hand=(
            hand("within", corrected=135.09),
            hand("outside", corrected=128.4285, uncertainty=0.36514),
        ),
        why="142 x 293.15 / 308.15 = 135.088; 135 gives 128.43; U of the gauge 0.25 x "
        "2 / sqrt(3) = 0.28868 x 0.95132 = 0.27462, of the thermometer 0.57735 x "
        "135 / 308.15 x 0.95132 = 0.24063, together 0.36514 (within 0.2 %)",
    ),
    WordCase(
        name="rate: 147 kPa after 90 days is not told, 145 is",
        procedure=PRESSURE,
        rule=LEAK,
        readings=(
            kpa("147.0", FIXED, **LATER),
            kpa("145.0", FIXED, **LATER),
            kpa("147.0", FIXED, **(LATER | {"elapsed_h": 720.0})),
            kpa("147.0", None, **LATER),
            kpa("147.0", FIXED, **(LATER | {"temperature_accuracy_c": None})),
            kpa("147.0", FIXED, **(LATER | {"elapsed_h": 0.0})),
            kpa("151.2", FIXED, **AT_REST),
            kpa("151.0", FIXED, **AT_REST),
            kpa("150.0", FIXED, **AT_REST),
        ),
        by_hand=(
            hand("unjudged"),
            hand("outside"),
            hand("unjudged"),
            hand("unjudged"),
            hand("unjudged"),
            hand("unjudged"),
            hand("within"),
            hand("within"),
            hand("marginal"),
        ),
        why="1.2832 with U 1.62; 6.7913 - 1.60 > 0.1; no accuracy of gauge, then of "
        "thermometer; no time; 10.27 years: U = 0.0384: 0, 0.0129 and 0.0773 "
        "against 0.1",
    ),
    WordCase(
        name="vapour: a frost point at 101.325 kPa is another at 150",
        procedure=FROST,
        rule=MOIST,
        readings=(
            Typed(
                text="-30",
                unit="degC",
                accuracy={"pct": 0.0, "fixed": 1.0, "unit": None},
                conditions={"sample_kpa": 101.325},
            ),
            Typed(text="-22", unit="degF", conditions={"sample_kpa": 101.325}),
            Typed(text="-9.6", unit="degC", conditions={"sample_kpa": 101.325}),
            Typed(text="-30", unit="degC"),
            Typed(text="-81", unit="degC", conditions={"sample_kpa": 101.325}),
            Typed(
                text="-9.4",
                unit="degC",
                accuracy={"pct": 0.0, "fixed": 0.5, "unit": None},
                conditions={"sample_kpa": 101.325},
            ),
        ),
        by_hand=(
            hand("within"),
            hand("within"),
            hand("within"),
            hand("unjudged"),
            hand("unjudged"),
            hand("marginal"),
        ),
        why="-26.169 degC; -22 degF is -30 degC; -9.6 becomes -5.09; no pressure of "
        "the meter; the formula begins at -80; -9.4 becomes -4.88",
    ),
    WordCase(
        name="vapour: ppm by volume as a frost point",
        procedure=PPMV,
        rule=SHARE,
        readings=(
            Typed(text="200", unit="ppmv"),
            Typed(text="750", unit="ppmv"),
            Typed(text="2678", unit="ppmv"),
            Typed(text="2680", unit="ppmv"),
            Typed(text="0", unit="ppmv"),
            Typed(text="<100", unit="ppmv"),
        ),
        by_hand=(
            hand("within"),
            hand("within"),
            hand("within"),
            hand("outside"),
            hand("unjudged"),
            hand("within"),
        ),
        why="-32.258 and -19.104 degC at 150 kPa; -5 degC is 2678.3 ppmv; nothing is "
        "no reading; less than 100 ppmv is drier than that",
    ),
)

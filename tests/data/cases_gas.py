"""Golden cases of gas: pressure, set points, leak rate, moisture, purity, mass.

Numbers of the design's worked tables 6.2, 6.6 and 6.9 where they are compared; the
others are arithmetic on the ideal gas.
"""

from collections.abc import Mapping
from typing import Any

from models.procedures import Subject
from tests.data.golden_case import Case, Given, Hand, hand

TANK = Subject(
    gas="sf6",
    gas_system="sealed",
    gas_fill_kpa=140.0,
    gas_alarm_kpa=130.0,
    gas_lockout_kpa=120.0,
    gas_tolerance_kpa=12.0,
    gas_mass_kg=12.0,
    altitude_m=200.0,
)
GAUGE = {
    "pressure_as": "gauge",
    "temperature_c": 31.0,
    "air_pressure_kpa": 99.2,
    "waited_h": 48.0,
}
QUARTER = {"pct": 0.0, "fixed": 0.25, "unit": None}
LEAK = {
    "pressure_as": "absolute",
    "first_kpa": 151.2,
    "first_c": 22.0,
    "temperature_c": 15.0,
    "elapsed_h": 2160.0,
    "temperature_accuracy_c": 0.5,
}
YEARS = LEAK | {"temperature_c": 22.0, "elapsed_h": 90000.0}
REST = {"waited_h": 48.0}
METER = REST | {"sample_kpa": 101.325}
W, X, U, M = hand("within"), hand("outside"), hand("unjudged"), hand("marginal")


def case(
    name: str,
    procedure: str,
    *readings: tuple[str, str, Mapping[str, Any] | None, Mapping[str, Any]],
    by_hand: tuple[Hand, ...],
    subject: Subject = TANK,
    why: str = "",
) -> Case:
    return Case(
        name=f"gas: {name}",
        procedure=procedure,
        subject=subject,
        readings=tuple(
            Given(text=text, unit=unit, accuracy=accuracy, conditions=conditions)
            for text, unit, accuracy, conditions in readings
        ),
        by_hand=by_hand,
        why=why,
    )


def but(conditions: Mapping[str, Any], **other: Any) -> dict[str, Any]:
    return {**conditions, **other}


CASES = (
    case(
        "a gauge pressure at 20 degC",
        "gas_density",
        ("46.0", "kPa", None, GAUGE),
        ("0.46", "bar", None, GAUGE),
        ("6.6717359", "psi", None, GAUGE),
        ("24.0", "kPa", None, but(GAUGE, temperature_c=9.0)),
        ("35.6", "kPa", QUARTER, GAUGE),
        ("46.0", "kPa", None, but(GAUGE, air_pressure_kpa=None)),
        ("46.0", "kPa", None, but(GAUGE, pressure_as="absolute")),
        ("142.0", "kPa", None, but(GAUGE, pressure_as="gauge")),
        ("46.0", "kPa", None, but(GAUGE, temperature_c=None)),
        ("46.0", "kPa", None, but(GAUGE, waited_h=1.0)),
        ("43.875", "kPa", None, but(GAUGE, pressure_as="sealed_gauge")),
        by_hand=(
            hand("within", corrected=139.76, limit_low=130.0, limit_high=152.0),
            hand("within", corrected=139.76),
            hand("within", corrected=139.76),
            hand("outside", corrected=128.18),
            M,
            U,
            U,
            U,
            U,
            U,
            hand("within", corrected=139.76),
        ),
        why="145.2 kPa at 31 degC, 123.2 at 9; 134.8 is 129.78 + 0.28 at 20 degC; no "
        "air pressure; 46 kPa absolute is no filled tank; 241.2 is above 1.6 x 140; "
        "43.875 + 101.325 is the same 145.2",
    ),
    case(
        "the air of the sea at 1500 m",
        "gas_density",
        ("46.0", "kPa", None, but(GAUGE, air_pressure_kpa=101.3)),
        ("60.6", "kPa", None, but(GAUGE, air_pressure_kpa=84.6)),
        by_hand=(U, hand("within", corrected=139.76)),
        subject=Subject(**{**TANK.fields, "altitude_m": 1500.0}),
        why="93.9 kPa at most up to 1500 m; 60.6 + 84.6 = 145.2",
    ),
    case(
        "which gas is not said, or not known",
        "gas_density",
        ("46.0", "kPa", None, GAUGE),
        by_hand=(U,),
        subject=Subject(gas_alarm_kpa=130.0),
    ),
    case(
        "dry air at 20 degC",
        "gas_density",
        ("142.0", "kPa", None, but(GAUGE, pressure_as="absolute", temperature_c=35)),
        by_hand=(hand("within", corrected=135.09),),
        subject=Subject(gas="air", gas_alarm_kpa=130.0),
        why="142 x 293.15 / 308.15; the reference has 135.07",
    ),
    case(
        "set points",
        "gas_contact",
        ("32.0", "kPa", None, but(GAUGE, contact="alarm", temperature_c=20)),
        ("20.0", "kPa", None, but(GAUGE, contact="alarm", temperature_c=20)),
        ("22.0", "kPa", None, but(GAUGE, contact="lockout", temperature_c=20)),
        ("17.7", "kPa", QUARTER, but(GAUGE, contact="lockout", temperature_c=20)),
        ("22.0", "kPa", None, but(GAUGE, temperature_c=20)),
        by_hand=(
            hand("within", corrected=131.2, limit_low=127.0, limit_high=133.0),
            X,
            hand("within", corrected=121.2, limit_low=117.0, limit_high=123.0),
            M,
            U,
        ),
        subject=Subject(**{**TANK.fields, "gas_tolerance_kpa": 3.0}),
        why="119.2 below 127; 116.9 below 117 by less than 0.29",
    ),
    case(
        "a leak rate, told or not",
        "gas_leak_rate",
        ("147.0", "kPa", QUARTER, LEAK),
        ("145.0", "kPa", QUARTER, LEAK),
        ("147.0", "kPa", QUARTER, but(LEAK, elapsed_h=720.0)),
        ("147.0", "kPa", None, LEAK),
        ("145.0", "kPa", QUARTER, but(LEAK, temperature_accuracy_c=None)),
        ("151.2", "kPa", QUARTER, YEARS),
        ("150.0", "kPa", QUARTER, YEARS),
        ("50.0", "kPa", QUARTER, but(LEAK, pressure_as="gauge", air_pressure_kpa=99)),
        by_hand=(U, X, U, U, U, W, M, U),
        why="6.2 of the design; after ten years 0 and 0.077 with U 0.038; no air "
        "pressure at the first reading",
    ),
    case(
        "a leak rate of air in a closed system: 0.5 a year",
        "gas_leak_rate",
        ("151.0", "kPa", QUARTER, YEARS),
        ("148.0", "kPa", QUARTER, YEARS),
        by_hand=(W, W),
        subject=Subject(gas="air", gas_system="closed"),
        why="2.12 % in 10.27 years is 0.206 a year",
    ),
    case(
        "a frost point",
        "gas_moisture",
        ("-30", "degC", None, METER),
        ("-22", "degF", None, METER),
        ("-9", "degC", None, METER),
        ("-10", "degC", {"pct": 0.0, "fixed": 1.0, "unit": None}, METER),
        ("-30", "degC", None, REST),
        ("-30", "degC", None, but(METER, waited_h=3.0)),
        by_hand=(W, W, X, M, U, U),
        subject=Subject(gas="sf6", gas_fill_kpa=150.0),
        why="-26.169 at 150 kPa; -9 becomes -4.47, -10 becomes -5.51 with U 1.2",
    ),
    case(
        "a share of water",
        "gas_moisture_ppmv",
        ("750", "ppmv", None, REST),
        ("2700", "ppmv", None, REST),
        ("2600", "ppmv", {"pct": 5.0, "fixed": 0.0, "unit": None}, REST),
        ("750", "ppmv", None, {}),
        by_hand=(W, X, M, U),
        subject=Subject(gas="sf6", gas_fill_kpa=150.0),
        why="-5 degC at 150 kPa is 2678.3 ppmv",
    ),
    case(
        "purity",
        "gas_purity",
        ("99.1", "%", None, but(REST, gas_part="sf6")),
        ("0.991", "%", None, but(REST, gas_part="sf6")),
        (
            "96.8",
            "%",
            {"pct": 0.0, "fixed": 0.5, "unit": None},
            but(REST, gas_part="sf6"),
        ),
        ("3.5", "%", None, but(REST, gas_part="air_cf4")),
        ("99.1", "%", None, REST),
        by_hand=(W, U, M, X, U),
        why="97 and 3; 96.8 + 0.58; 0.991 is a fraction and no share of one hundred",
    ),
    case(
        "purity of another gas",
        "gas_purity",
        ("99.1", "%", None, but(REST, gas_part="sf6")),
        by_hand=(U,),
        subject=Subject(gas="air"),
    ),
    case(
        "mass that was moved",
        "gas_mass",
        ("11.8", "kg", None, {"gas_way": "in", "cylinder_id": "C-17"}),
        ("26.5", "lb", None, {"gas_way": "in"}),
        ("12.05", "kg", {"pct": 0.0, "fixed": 0.1, "unit": None}, {"gas_way": "in"}),
        ("11.8", "kg", None, {}),
        by_hand=(hand("within", corrected=11.8, limit_high=12.0), X, M, U),
        why="26.5 lb is 12.02 kg",
    ),
    case(
        "mass of a tank whose plate has none",
        "gas_mass",
        ("11.8", "kg", None, {"gas_way": "in"}),
        by_hand=(U,),
        subject=Subject(),
    ),
)

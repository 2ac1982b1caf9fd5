"""Golden cases: inverse undervoltage and overvoltage elements.

By hand: t = k A / (B dU/U - C)^E + D with the constants of the table
`relay_voltage_inverse`; the band is the greater of 5 % and 35 ms.
"""

from typing import Any

from models.procedures import Subject
from tests.data.golden_case import Case, Given, Hand, hand

VOLTS = {"set_unit": "V"}
OVER_A = Subject(voltage_curve="over_a", set_value=120.0, time_dial=0.5, **VOLTS)
OVER_B = Subject(voltage_curve="over_b", set_value=120.0, time_dial=0.2, **VOLTS)
UNDER_B = Subject(voltage_curve="under_b", set_value=100.0, time_dial=1.0, **VOLTS)
IN_HERTZ = Subject(voltage_curve="over_a", set_value=62.0, set_unit="Hz", time_dial=0.5)
ONE_PCT = {"pct": 1.0, "fixed": 0.0, "unit": None}


def case(
    name: str,
    subject: Subject,
    text: str,
    applied_v: float | None,
    found: Hand,
    why: str = "",
    accuracy: dict[str, Any] | None = None,
) -> Case:
    known = {} if applied_v is None else {"applied_v": applied_v}
    unit = None if text == "no_trip" else "s"
    given = Given(text=text, unit=unit, accuracy=accuracy, conditions=known)
    return Case(
        name=f"relay voltage: {name}",
        procedure="relay_voltage_timing",
        subject=subject,
        readings=(given,),
        by_hand=(found,),
        why=why,
    )


A_TENTH = "0.5 x 1 / 0.1 = 5; 5 % = 0.25"
FIVE = {"limit_low": 4.75, "limit_high": 5.25}
B_TENTH = "0.2 x 480 / (3.2 - 0.5)^2 + 0.035 = 96 / 7.29 + 0.035 = 13.2037; 5 %"
THIRTEEN = {"limit_low": 12.5435, "limit_high": 13.8639}
AT_NOTHING = "480 / (32 - 0.5)^2 + 0.055 = 480 / 992.25 + 0.055 = 0.53875; 35 ms"
HALF = {"limit_low": 0.503749, "limit_high": 0.573749}

CASES = (
    case("curve A at 1.1", OVER_A, "5.2", 132.0, hand("within", **FIVE), A_TENTH),
    case("curve A, late", OVER_A, "5.3", 132.0, hand("outside", **FIVE), A_TENTH),
    case(
        "curve A, near the end",
        OVER_A,
        "5.22",
        132.0,
        hand("marginal", uncertainty=0.060277, **FIVE),
        A_TENTH + "; U = 2 x 0.0522 / sqrt 3",
        ONE_PCT,
    ),
    case("curve A, never", OVER_A, "no_trip", 132.0, hand("outside", **FIVE), A_TENTH),
    case("curve B over", OVER_B, "13.2", 132.0, hand("within", **THIRTEEN), B_TENTH),
    case("curve B, early", OVER_B, "12.5", 132.0, hand("outside", **THIRTEEN), B_TENTH),
    case("curve B under", UNDER_B, "0.55", 0.0, hand("within", **HALF), AT_NOTHING),
    case("curve B, late", UNDER_B, "0.58", 0.0, hand("outside", **HALF), AT_NOTHING),
    case("under, healthy", UNDER_B, "no_trip", 105.0, hand("within")),
    case("under, twice the setting", UNDER_B, "no_trip", 300.0, hand("within")),
    case("under, operates in health", UNDER_B, "3", 105.0, hand("outside")),
    case("over, healthy", OVER_A, "no_trip", 114.0, hand("within")),
    case("at the setting", OVER_A, "no_trip", 120.0, hand("within")),
    case("too near the setting", OVER_A, "9", 126.0, hand("unjudged")),
    case("no voltage", OVER_A, "5", None, hand("unjudged")),
    case("the setting in hertz", IN_HERTZ, "5", 70.0, hand("unjudged")),
    case("no setting", Subject(), "5", 70.0, hand("unjudged")),
    case("no proportion", OVER_A, "5", 2e8, hand("unjudged")),
)

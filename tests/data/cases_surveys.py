"""Golden cases: thermographic and discharge surveys, temperature sensors.

By hand: Table 100.18 of the acceptance edition of 2003 (1, 3 and 15 K between similar
parts; 1, 10, 20 and 40 K over the air), the load of 40 %; levels of
discharge from memory.
"""

from collections.abc import Mapping
from typing import Any

from models.procedures import Subject
from models.procedures.given import Given as GivenFigure
from tests.data.golden_case import Case, Given, Hand, hand

NOTHING = Subject()
ONE_K = {"pct": 0.0, "fixed": 1.0, "unit": None}
W, M, X, U = map(hand, ("within", "marginal", "outside", "unjudged"))
SIMILAR = {"compare_to": "similar", "load_pct": 65.0}
AIR = {"compare_to": "air", "load_pct": 65.0}


def case(
    procedure: str,
    name: str,
    texts: str,
    found: tuple[Hand, ...],
    known: Mapping[str, Any],
    subject: Subject = NOTHING,
    unit: str | None = None,
    accuracy: Mapping[str, Any] | None = None,
    why: str = "",
    decision: str = "guarded",
) -> Case:
    given = (
        Given(text=text, unit=unit, accuracy=accuracy, conditions=known)
        for text in texts.split()
    )
    return Case(
        name=f"{procedure}: {name}",
        procedure=procedure,
        subject=subject,
        readings=tuple(given),
        by_hand=found,
        why=why,
        decision=decision,
    )


def heat(
    name: str,
    texts: str,
    found: tuple[Hand, ...],
    known: Mapping[str, Any],
    accuracy: Mapping[str, Any] | None = None,
    why: str = "",
) -> Case:
    return case("thermography", name, texts, found, known, NOTHING, "K", accuracy, why)


HEAT = (
    heat(
        "similar parts, each band and its end",
        "-3 1 2 3 6 15 15.1",
        (W, hand("within", limit_high=1.0), M, M, X, X, X),
        SIMILAR,
    ),
    heat("over the air", "1 10 11 20 40 41", (W, M, X, X, X, X), AIR),
    heat(
        "a camera within 1 K",
        "0.5 6",
        (hand("marginal", uncertainty=1.1547), hand("outside", uncertainty=1.1547)),
        SIMILAR,
        ONE_K,
        "U = 2 x 1 / sqrt 3: up to 1.65 K may be one; from 4.85 K all are",
    ),
    heat("40 % of load", "0", (W,), SIMILAR | {"load_pct": 40.0}),
    heat("39 % of load", "0", (U,), SIMILAR | {"load_pct": 39.0}),
    heat("load not known", "0", (U,), {"compare_to": "similar"}),
    heat("compared with what", "6", (U,), {"load_pct": 65.0}),
)


def levels(
    name: str,
    texts: str,
    found: tuple[Hand, ...],
    sensor: str | None,
    background: float | None,
    pattern: str | None = None,
    why: str = "",
) -> Case:
    said = {
        "sensor_kind": sensor,
        "background_db": background,
        "phase_pattern": pattern,
    }
    known = {key: value for key, value in said.items() if value is not None}
    return case("discharge_survey", name, texts, found, known, NOTHING, "dB", None, why)


DISCHARGE = (
    levels("earth voltage, quiet", "-2 12 18", (W, W, W), "tev", 8.0),
    levels("earth voltage", "20 24 29 30", (M, M, M, X), "tev", 8.0),
    levels(
        "normal, but not like the background",
        "12 13",
        (W, M),
        "tev",
        2.0,
        why="12 - 2 = 10, 13 - 2 = 11: above by more than 10",
    ),
    levels("at the highest background", "20 29.5", (W, X), "tev", 19.0),
    levels("the background too high", "31", (U,), "tev", 20.0),
    levels("no background", "12", (U,), "tev", None),
    levels("ultrasound, locked", "-6 6 7", (W, W, X), "ultrasound", -6.0, "locked"),
    levels("ultrasound, a noise", "6 7", (W, M), "ultrasound", -6.0, "not_locked"),
    levels("ultrasound, not said", "7", (U,), "ultrasound", -6.0),
    levels("UHF, locked", "-40 -38", (M, M), "uhf", -40.0, "locked"),
    levels("UHF, a radio", "-20", (W,), "uhf", -40.0, "not_locked"),
    levels("UHF, not said", "-20", (U,), "uhf", -40.0),
    levels("a CT has no level", "30", (U,), "hfct", 8.0),
    levels("no sensor", "30", (U,), None, 8.0),
)


def given(quantity: str, value: float) -> Subject:
    one = GivenFigure(
        quantity=quantity,
        value=value,
        standing="project",
        scope="lineup",
        document="the project's paper",
    )
    return Subject(given=(one,))


SENSOR = "temperature_sensor"
PLATE = Subject(sensor_accuracy_c=1.0, sensor_alarm_c=90.0)
AT = {"reference_c": 22.8}
SENSORS = (
    case(
        SENSOR,
        "beside a reference of 22.8",
        "23.8 21.7",
        (hand("within", limit_low=21.8, limit_high=23.8), X),
        AT,
        PLATE,
        "degC",
    ),
    case(
        SENSOR,
        "near the end",
        "23.5",
        (hand("marginal", uncertainty=1.1547),),
        AT,
        PLATE,
        "degC",
        ONE_K,
    ),
    case(SENSOR, "in frost", "-4", (W,), {"reference_c": -4.5}, PLATE, "degC"),
    case(SENSOR, "in Fahrenheit", "73.4", (W,), AT, PLATE, "degF", why="23 degC"),
    case(SENSOR, "no accuracy", "23", (U,), AT, NOTHING, "degC"),
    case(SENSOR, "no reference", "23", (U,), {}, PLATE, "degC"),
    case(
        SENSOR,
        "a project's tolerance",
        "24.5",
        (W,),
        AT,
        given("sensor_accuracy", 2.0),
        "degC",
    ),
    case(
        "temperature_sensor_spread",
        "at most 2 K",
        "2 2.1",
        (W, X),
        {},
        given("sensor_spread", 2.0),
        "K",
    ),
    case(
        "temperature_sensor_spread",
        "near 2 K",
        "1.5",
        (M,),
        {},
        given("sensor_spread", 2.0),
        "K",
        ONE_K,
    ),
    case("temperature_sensor_spread", "nobody's", "1", (U,), {}, NOTHING, "K"),
    case(
        "temperature_sensor_alarm",
        "as issued, 90",
        "90 89 91",
        (W, X, X),
        {},
        PLATE,
        "degC",
        decision="simple",
    ),
    case("temperature_sensor_alarm", "not issued", "90", (U,), {}, NOTHING, "degC"),
    case(
        "temperature_sensor_link",
        "lost and said, lost and not said",
        "as_expected not_as_expected",
        (W, X),
        {},
    ),
)
CHARGE = given("apparent_charge", 10.0)
STAMPED = Subject(discharge_limit_pc=10.0)
TENTH = {"pct": 10.0, "fixed": 0.0, "unit": None}
# Of 10 pC permitted the background may be 5; U of 9 pC is 2 x 0.9 / sqrt(3) = 1.039.
COUPLERS = tuple(
    case(
        "discharge_couplers",
        name,
        texts,
        found,
        known,
        plate,
        "pC",
        TENTH,
        why="10 pC permitted by the project; half of it for the background",
    )
    for name, texts, found, known, plate in (
        ("quiet", "8 9.5 12", (W, M, X), {"background_pc": 2.0}, CHARGE),
        ("at half of it", "8", (W,), {"background_pc": 5.0}, CHARGE),
        ("too noisy", "8", (U,), {"background_pc": 5.1}, CHARGE),
        ("background not known", "8", (U,), {}, CHARGE),
        ("on the nameplate", "8", (W,), {"background_pc": 5.0}, STAMPED),
        ("too noisy for it", "8", (U,), {"background_pc": 5.5}, STAMPED),
        ("nobody has said", "8", (U,), {"background_pc": 2.0}, NOTHING),
    )
)
CASES = (*HEAT, *DISCHARGE, *COUPLERS, *SENSORS)

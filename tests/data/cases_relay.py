"""Golden cases: relay timing.

By hand: t = dial (A / (M^p - 1) + B); the band is the greater of 5 % and 35 ms.
"""

from typing import Any

from models.procedures import Subject
from tests.data.golden_case import Case, Given, Hand, hand

SET = {"pickup_a": 100.0, "time_dial": 0.3}
STANDARD = Subject(curve="iec_standard_inverse", pickup_a=100.0, time_dial=0.3)
HALF_SECOND = Subject(curve="definite_time", pickup_a=100.0, time_dial=0.5)
ONE_PCT = {"pct": 1.0, "fixed": 0.0, "unit": None}


def at(
    text: str,
    applied_a: float | None = 200.0,
    unit: str | None = "s",
    accuracy: dict[str, Any] | None = None,
) -> Given:
    conditions = {} if applied_a is None else {"applied_a": applied_a}
    if text == "no_trip":
        unit = None
    return Given(text=text, unit=unit, accuracy=accuracy, conditions=conditions)


def case(
    name: str,
    given: Given,
    found: Hand | None = None,
    why: str = "",
    subject: Subject = STANDARD,
) -> Case:
    return Case(
        name=f"relay: {name}",
        procedure="relay_timing",
        subject=subject,
        readings=(given,),
        by_hand=() if found is None else (found,),
        why=why,
    )


AT_TWICE = "0.3 x 0.14 / (2^0.02 - 1) = 0.3 x 0.14 / 0.0139595 = 3.00870; 5 % = 0.15044"
BAND = {"limit_low": 2.85827, "limit_high": 3.15914}

STANDARD_INVERSE = (
    case("as calculated", at("3.01"), hand("within", **BAND), AT_TWICE),
    case("late, within", at("3.15"), hand("within", **BAND), AT_TWICE),
    case("too late", at("3.16"), hand("outside", **BAND), AT_TWICE),
    case("early, within", at("2.86"), hand("within", **BAND), AT_TWICE),
    case("too early", at("2.85"), hand("outside", **BAND), AT_TWICE),
    case("in milliseconds", at("3010", unit="ms"), hand("within", corrected=3.01)),
    case("did not operate", at("no_trip"), hand("outside", **BAND), AT_TWICE),
    case("over range, late", at(">100"), hand("outside", **BAND), AT_TWICE),
    case("over range, early", at(">2"), hand("unjudged", **BAND), AT_TWICE),
    case("over range, in the band", at(">3"), hand("unjudged", **BAND), AT_TWICE),
    case("under range, early", at("<1"), hand("outside", **BAND), AT_TWICE),
    case("under range, in the band", at("<3"), hand("unjudged", **BAND), AT_TWICE),
    case("under range, late", at("<10"), hand("unjudged", **BAND), AT_TWICE),
    case("a tie is shown even", at("1.0625")),
)


def curve_case(
    curve: str,
    dial: float,
    applied_a: float,
    rows: tuple[tuple[str, str], ...],
    why: str,
) -> tuple[Case, ...]:
    subject = Subject(curve=curve, pickup_a=100.0, time_dial=dial)
    return tuple(
        case(f"{curve}, {text} s", at(text, applied_a), hand(verdict), why, subject)
        for text, verdict in rows
    )


CURVES = (
    *curve_case(
        "iec_very_inverse",
        0.4,
        500.0,
        (
            ("1.4175", "within"),
            ("1.418", "outside"),
            ("1.2825", "within"),
            ("1.282", "outside"),
        ),
        "0.4 x 13.5 / 4 = 1.35; 5 % = 0.0675: 1.2825 to 1.4175",
    ),
    *curve_case(
        "iec_extremely_inverse",
        0.5,
        1000.0,
        (
            ("0.439", "within"),
            ("0.440", "outside"),
            ("0.370", "within"),
            ("0.369", "outside"),
        ),
        "0.5 x 80 / 99 = 0.404040; 35 ms is the greater: 0.36904 to 0.43904",
    ),
    *curve_case(
        "iec_long_time_inverse",
        0.1,
        300.0,
        (
            ("6.3", "within"),
            ("6.31", "outside"),
            ("5.7", "within"),
            ("5.69", "outside"),
        ),
        "0.1 x 120 / 2 = 6.0; 5 % = 0.3: 5.7 to 6.3",
    ),
    *curve_case(
        "ieee_moderately_inverse",
        5.0,
        200.0,
        (("19.96", "within"), ("19.97", "outside"), ("18.06", "outside")),
        "5 x (0.0515 / 0.0139595 + 0.114) = 19.0163; 5 % = 0.9508: 18.0655 to 19.9671",
    ),
    *curve_case(
        "ieee_very_inverse",
        2.0,
        200.0,
        (("14.75", "within"), ("14.76", "outside"), ("13.35", "outside")),
        "2 x (19.61 / 3 + 0.491) = 14.0553; 5 % = 0.70277: 13.3526 to 14.7581",
    ),
    *curve_case(
        "ieee_extremely_inverse",
        3.0,
        400.0,
        (("6.30", "within"), ("6.31", "outside"), ("5.70", "outside")),
        "3 x (28.2 / 15 + 0.1217) = 6.0051; 5 % = 0.300255: 5.70485 to 6.30536",
    ),
    *curve_case(
        "definite_time",
        0.5,
        200.0,
        (
            ("0.535", "within"),
            ("0.536", "outside"),
            ("0.465", "within"),
            ("0.464", "outside"),
        ),
        "0.5; 5 % = 25 ms, 35 ms is the greater: 0.465 to 0.535",
    ),
    case(
        "a band that would begin below nothing",
        at("0"),
        hand("within", limit_low=0, limit_high=0.055),
        "0.02 - 0.035 < 0",
        subject=Subject(curve="definite_time", pickup_a=100.0, time_dial=0.02),
    ),
)

NOTHING_TOO_EARLY = Subject(curve="definite_time", pickup_a=100.0, time_dial=0.02)
TWENTY_MS = {"pct": 0.0, "fixed": 20.0, "unit": "ms"}
ONLY_LATEST = "No reading can be below the earliest 0 s."

EARLIEST_ZERO = (
    case(
        "no time is too early, however uncertain",
        at("0.010", accuracy=TWENTY_MS),
        hand(
            "within",
            f"{ONLY_LATEST} 0.01000 s + U 0.02309 s is at or below the latest "
            "0.05500 s.",
            limit_low=0,
            limit_high=0.055,
            uncertainty=0.023094,
        ),
        "0.02 - 0.035 < 0; U = 1.1547 x 20 ms; 0.010 + 0.0231 = 0.0331",
        subject=NOTHING_TOO_EARLY,
    ),
    case(
        "no time is too early, and this one nearly late",
        at("0.040", accuracy=TWENTY_MS),
        hand("marginal", limit_low=0),
        "0.040 + 0.0231 = 0.0631 > 0.055",
        subject=NOTHING_TOO_EARLY,
    ),
    case(
        "no time is too early, and this one late",
        at("0.079", accuracy=TWENTY_MS),
        hand("outside", limit_low=0),
        "0.079 - 0.0231 = 0.0559 > 0.055",
        subject=NOTHING_TOO_EARLY,
    ),
    case(
        "under range with nothing too early",
        at("<0.03", accuracy=TWENTY_MS),
        hand("within"),
        "0.030 + 0.0231 = 0.0531",
        subject=NOTHING_TOO_EARLY,
    ),
)

MULTIPLES = (
    case("no trip at pickup", at("no_trip", 100.0), hand("within", limit_low=None)),
    case("no trip below pickup", at("no_trip", 90.0), hand("within")),
    case("operated at pickup", at("25", 100.0), hand("outside")),
    case("operated below pickup", at("25", 95.0), hand("outside")),
    case("under range below pickup", at("<0.5", 95.0), hand("outside")),
    case("timed out below pickup", at(">60", 95.0), hand("unjudged")),
    case("just above pickup", at("30", 100.1), hand("unjudged")),
    case("just below a timing point", at("8.0", 129.0), hand("unjudged")),
    case("no trip just below a timing point", at("no_trip", 129.0), hand("unjudged")),
    case(
        "at the first timing point",
        at("8.0", 130.0),
        hand("within", limit_low=7.58399, limit_high=8.38231),
        "1.3^0.02 - 1 = 0.00526108; 0.3 x 0.14 / 0.00526108 = 7.98315",
    ),
    case("no trip at the first timing point", at("no_trip", 130.0), hand("outside")),
    case("a multiple with many digits", at("2.2", 333.333333)),
    case(
        "a pickup in primary amperes",
        at("0.8", 5000.0),
        subject=Subject(curve="ieee_very_inverse", pickup_a=640.0, time_dial=1.5),
    ),
)

MISSING = (
    case("applied current not known", at("3.0", None), hand("unjudged")),
    case("no trip, applied current not known", at("no_trip", None), hand("unjudged")),
    case(
        "curve not known",
        at("3.0"),
        hand("unjudged", limit_high=None),
        subject=Subject(pickup_a=100.0, time_dial=0.3),
    ),
    case(
        "pickup not known",
        at("3.0"),
        hand("unjudged"),
        subject=Subject(curve="iec_very_inverse", time_dial=0.3),
    ),
    case("no setting known", at("3.0", None), hand("unjudged"), subject=Subject()),
)

IMPOSSIBLE = tuple(
    case(
        name,
        at("3.0"),
        hand("unjudged", reason, limit_low=None, limit_high=None),
        subject=Subject(
            **{"curve": "iec_standard_inverse", **SET, **settings}  # type: ignore[arg-type]
        ),
    )
    for name, settings, reason in (
        ("pickup zero", {"pickup_a": 0.0}, "The pickup is not above zero."),
        ("pickup below zero", {"pickup_a": -1.0}, "The pickup is not above zero."),
        ("dial zero", {"time_dial": 0.0}, "The time dial is not above zero."),
        (
            "definite time zero",
            {"curve": "definite_time", "time_dial": 0.0},
            "The time dial is not above zero.",
        ),
        (
            "pickup and dial zero",
            {"pickup_a": 0, "time_dial": 0},
            "The pickup is not above zero. The time dial is not above zero.",
        ),
        (
            "dial out of all proportion",
            {"time_dial": 1e300},
            "The time dial is out of all proportion.",
        ),
        (
            "pickup out of all proportion to the current",
            {"pickup_a": 1e-300},
            "200 A is out of all proportion to the pickup 1e-300 A: check both.",
        ),
        (
            "tolerance below zero",
            {"tolerance_pct": -5.0},
            "The declared tolerance is below zero.",
        ),
        (
            "tolerance in seconds below zero",
            {"tolerance_s": -0.035},
            "The declared tolerance is below zero.",
        ),
        (
            "curve of no table",
            {"curve": "straight"},
            "The curve is not known: choose it among the settings of the relay.",
        ),
    )
)

TOLERANCE = (
    case(
        "percentage declared, the default seconds",
        at("3.10"),
        hand("outside", limit_low=2.91844, limit_high=3.09896),
        "3.0087 x 3 % = 0.090261",
        subject=Subject(curve="iec_standard_inverse", tolerance_pct=3.0, **SET),
    ),
    case(
        "seconds declared, the default percentage",
        at("3.20"),
        hand("within", limit_low=2.8087, limit_high=3.2087),
        "0.2 s is more than 5 % = 0.15044",
        subject=Subject(curve="iec_standard_inverse", tolerance_s=0.2, **SET),
    ),
    case(
        "both declared",
        at("0.486"),
        hand("within", limit_low=0.485, limit_high=0.515),
        "0.5 x 3 % = 15 ms, 10 ms",
        subject=Subject(
            curve="definite_time",
            pickup_a=100.0,
            time_dial=0.5,
            tolerance_pct=3.0,
            tolerance_s=0.01,
        ),
    ),
    case(
        "both declared, at the earliest and below",
        at("0.484"),
        hand("outside", limit_low=0.485),
        subject=Subject(
            curve="definite_time",
            pickup_a=100.0,
            time_dial=0.5,
            tolerance_pct=3.0,
            tolerance_s=0.01,
        ),
    ),
)

UNCERTAINTY = (
    case(
        "late by less than U",
        at("3.15", accuracy=ONE_PCT),
        hand("marginal", uncertainty=0.0363731),
        "U = 1.1547 x 0.0315; 3.15 + 0.0364 = 3.1864 > 3.15914",
    ),
    case(
        "not late by more than U",
        at("3.12", accuracy=ONE_PCT),
        hand("within", uncertainty=0.0360267),
        "3.12 + 0.0360 = 3.1560",
    ),
    case(
        "too late by less than U",
        at("3.16", accuracy=ONE_PCT),
        hand("marginal"),
        "3.16 - 0.0365 = 3.1235",
    ),
    case(
        "too late by more than U",
        at("3.20", accuracy=ONE_PCT),
        hand("outside", uncertainty=0.0369504),
        "3.20 - 0.03695 = 3.16305",
    ),
    case(
        "early by less than U",
        at("2.87", accuracy=ONE_PCT),
        hand("marginal", uncertainty=0.0331399),
        "2.87 - 0.0331 = 2.8369 < 2.85827",
    ),
    case(
        "too early by more than U",
        at("2.82", accuracy=ONE_PCT),
        hand("outside", uncertainty=0.0325626),
        "2.82 + 0.0326 = 2.8526",
    ),
    case(
        "a fixed part in milliseconds",
        at("0.530", accuracy={"pct": 0.0, "fixed": 5.0, "unit": "ms"}),
        hand("marginal", uncertainty=0.0057735),
        "U = 1.1547 x 5 ms; 0.530 + 0.0058 = 0.5358 > 0.535",
        subject=HALF_SECOND,
    ),
    case(
        "a fixed part in milliseconds, within",
        at("529", unit="ms", accuracy={"pct": 0.0, "fixed": 5.0, "unit": "ms"}),
        hand("within", corrected=0.529, uncertainty=0.0057735),
        "0.529 + 0.0058 = 0.5348",
        subject=HALF_SECOND,
    ),
    case(
        "a fixed part in seconds, read in milliseconds",
        at("530", unit="ms", accuracy={"pct": 0.0, "fixed": 0.005, "unit": "s"}),
        hand("marginal", corrected=0.530, uncertainty=0.0057735),
        "U = 1.1547 x 5 ms; 530 + 5.8 = 535.8 > 535",
        subject=HALF_SECOND,
    ),
    case(
        "a fixed part in the unit of the value, milliseconds",
        at("529", unit="ms", accuracy={"pct": 0.0, "fixed": 5.0, "unit": None}),
        hand("within", uncertainty=0.0057735),
        "U = 1.1547 x 5 ms; 534.8",
        subject=HALF_SECOND,
    ),
    case(
        "percent and a fixed part in seconds, read in milliseconds",
        at("3120", unit="ms", accuracy={"pct": 1.0, "fixed": 0.001, "unit": "s"}),
        hand("within", corrected=3.12, uncertainty=0.0371814),
        "U = 1.1547 x (31.2 + 1) ms = 37.18 ms; 3.1572 < 3.15914",
    ),
)

CASES = (
    *STANDARD_INVERSE,
    *CURVES,
    *EARLIEST_ZERO,
    *MULTIPLES,
    *MISSING,
    *IMPOSSIBLE,
    *TOLERANCE,
    *UNCERTAINTY,
)

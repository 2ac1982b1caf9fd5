"""Golden cases: readings beside what was accepted at the same point.

By hand: r = x / b, Ur = r sqrt((U/x)^2 + (Ub/b)^2) (JCGM 100:2008, 5.1.6); programme
6.10: 41.0 on 36.0 uOhm, both 2 %: r 1.1389, Ur 0.037196, within 1.2. An accuracy of 2 %
is U = 2 x 2 / sqrt(3) = 2.3094 % of the reading.
"""

from typing import Any

from models.procedures import Subject
from models.procedures.baseline import Baseline
from models.procedures.given import Given
from tests.data.golden_case import Case, Hand, hand
from tests.data.golden_case import Given as Reading

W, M, X, U = map(hand, ("within", "marginal", "outside", "unjudged"))
TWO = {"pct": 2.0, "fixed": 0.0, "unit": None}
SHARE = 2 * 0.02 / 3**0.5
AT_100_A = {"temperature_c": 20.0, "test_current_a": 100.0}
LATCH = {"coil": "trip_1", "coil_mark": "latch"}


def at(
    quantity: str, figure: float, value: float, unit: str, **plate: Any
) -> tuple[Subject, Subject]:
    """Return the subject with this baseline, with the share adopted and without."""
    read = Baseline(
        value=value, unit=unit, expanded=SHARE * value, round="Acceptance 1"
    )
    share = Given(
        quantity=quantity,
        value=figure,
        standing="project",
        scope="lineup",
        document="the project's paper",
    )
    return (
        Subject(given=(share,), **plate).at_point(read),
        Subject(**plate).at_point(read),
    )


# procedure, subjects, conditions, unit, texts with the share, and one without
ROWS: tuple[
    tuple[
        str,
        tuple[Subject, Subject],
        dict[str, Any],
        str,
        tuple[tuple[str, Hand], ...],
        Hand,
    ],
    ...,
] = (
    (
        # 1.2 x 36 = 43.2; 43.2 / 36 with U 0.0392: 42 to 44.6 cannot be told
        "contact_resistance",
        at("contact_rise", 1.2, 36.0, "uOhm", conductor="copper"),
        AT_100_A,
        "uOhm",
        (("41.0", hand("within", limit_high=43.2)), ("43.0", M), ("45.0", X)),
        W,
    ),
    (
        "joint_resistance",
        at("joint_rise", 1.2, 8.0, "uOhm", conductor="copper"),
        AT_100_A,
        "uOhm",
        (("8.2", hand("within", limit_high=9.6)), ("9.5", M), ("10.1", X)),
        W,
    ),
    (
        # 45 to 55 ms; U of the ratio at 53 is 1.06 sqrt(2) 2.3094 % = 3.5 %
        "breaker_timing",
        at("breaker_time_change", 10.0, 50.0, "ms"),
        {"operation": "close"},
        "ms",
        (
            ("51", hand("within", limit_low=0.045, limit_high=0.055)),
            ("54", M),
            ("57.5", X),
            ("42", X),
        ),
        U,
    ),
    (
        "breaker_timing",
        at("breaker_time_change", 10.0, 1.0, "ms"),
        {"operation": "bounce"},
        "ms",
        (("5", U),),
        U,
    ),
    (
        "contact_travel",
        at("contact_travel_change", 10.0, 11.0, "mm"),
        {"measure": "stroke"},
        "mm",
        (
            ("11.2", hand("within", limit_low=9.9, limit_high=12.1)),
            ("12", M),
            ("12.7", X),
            ("9.2", X),
        ),
        U,
    ),
    (
        "contact_speed",
        at("contact_speed_change", 10.0, 1.0, "m/s"),
        {"operation": "open"},
        "m/s",
        (
            ("1.02", hand("within", limit_low=0.9, limit_high=1.1)),
            ("0.92", M),
            ("0.86", X),
            ("1.2", X),
        ),
        U,
    ),
    (
        "insulation_capacitance",
        at("capacitance_change", 5.0, 350.0, "pF"),
        {},
        "pF",
        (
            ("351", hand("within", limit_low=332.5, limit_high=367.5)),
            ("360", M),
            ("390", X),
            ("310", X),
        ),
        U,
    ),
    (
        "coil_times",
        at("coil_times_change", 20.0, 12.0, "ms"),
        LATCH,
        "ms",
        (
            ("12.4", hand("within", limit_low=0.0096, limit_high=0.0144)),
            ("14.2", M),
            ("15.2", X),
            ("9", X),
        ),
        U,
    ),
    (
        "coil_times",
        at("coil_times_change", 20.0, 12.0, "ms"),
        {"coil": "trip_1"},
        "ms",
        (("12.4", U),),
        U,
    ),
    (
        "coil_times",
        (Subject(), Subject()),
        LATCH,
        "ms",
        (("12.4", U),),
        U,
    ),
)


def _cases() -> Any:
    for number, (procedure, both, conditions, unit, found, without) in enumerate(ROWS):
        # one pole or joint by itself is compared with none: two read the same
        members = 2 if unit == "uOhm" else 1
        readings = [(text, both[0], one) for text, one in found]
        for text, subject, one in (*readings, (found[0][0], both[1], without)):
            given = Reading(text=text, unit=unit, conditions=conditions, accuracy=TWO)
            share = "adopted" if subject is both[0] else "not adopted"
            yield Case(
                name=f"baseline {number}, {procedure}: {text}, {share}",
                procedure=procedure,
                subject=subject,
                readings=(given,) * members,
                by_hand=(one,) * members,
                why="r and Ur by hand",
            )


def _accepted_without_an_accuracy() -> Any:
    """U of the reading alone: 5 % up of 350 pF is 367.5, and 2.3094 % of 365 is 8.4."""
    (subject, _) = at("capacitance_change", 5.0, 350.0, "pF")
    bare = Baseline(value=350.0, unit="pF", expanded=None, round="Acceptance 1")
    for text, accuracy, found in (("351", TWO, W), ("365", TWO, M), ("365", None, W)):
        given = Reading(text=text, unit="pF", accuracy=accuracy)
        known = "of an accuracy" if accuracy else "of none"
        yield Case(
            name=f"baseline without an accuracy: {text} {known}",
            procedure="insulation_capacitance",
            subject=subject.at_point(bare),
            readings=(given,),
            by_hand=(found,),
            why="the baseline adds nothing to U",
        )


CASES = (*_cases(), *_accepted_without_an_accuracy())

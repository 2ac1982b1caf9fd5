"""Golden cases: travel, speed, coil voltage, charging of the spring, power factor.

By hand: the limits are the nameplate's or the table's, U = 2 x half-width / sqrt(3).
The ranges of ANSI/IEEE C37.06 at 125 V dc are in volts, those of the IEC percent of it:
0.70 x 125 = 87.5 V, 0.85 x 125 = 106.25 V, 0.35 x 125 = 43.75 V.
"""

from dataclasses import replace
from typing import Any

from models.procedures import Subject
from models.procedures.baseline import Baseline
from models.procedures.given import Given
from tests.data.golden_case import Case, Hand, hand
from tests.data.golden_case import Given as Reading

W, M, X, U = (hand(v) for v in ("within", "marginal", "outside", "unjudged"))
STROKE, EROSION = {"measure": "stroke"}, {"measure": "erosion"}
CLOSE, OPEN = {"operation": "close"}, {"operation": "open"}
BAND = Given(
    quantity="coil_current_band",
    value=10.0,
    standing="project",
    scope="kind",
    document="Commissioning plan",
)
# 125 V over 22 ohm is 5.6818 A; 10 % of it 0.56818 A.
COIL = Subject(control_nominal="125_v_dc", coil_ohm=22.0, given=(BAND,))
SHOT = "0:0 4:3.1 8:4.2 11:3.4 14:4.9 18:5.9 26:5.9 30:0"
TRIP, DROP = {"coil": "trip_1"}, {"coil": "undervoltage_out"}
TENTH = {"pct": 0.0, "fixed": 0.1, "unit": "mm"}
TRAVEL = Subject(stroke_mm_min=10.5, stroke_mm_max=12.5, erosion_mm_max=3.0)
SPEED = Subject(speed_close_mps_min=0.8, speed_close_mps_max=1.2)
ANSI = Subject(control_nominal="125_v_dc")
IEC = Subject(control_nominal="125_v_dc", control_edition="iec")
IEC_AC = Subject(control_nominal="120_v_ac", control_edition="iec")
FACTOR = Subject(power_factor_limit_pct=0.5)
MEASURED = {"test_kv": 10.0, "temperature_c": 22.0}

# procedure, what, subject, conditions, unit, (text, what a hand found), accuracy
ROWS: tuple[
    tuple[
        str,
        str,
        Subject,
        dict[str, Any],
        str,
        tuple[tuple[str, Hand], ...],
        dict[str, Any] | None,
    ],
    ...,
] = (
    (
        "contact_travel",
        "stroke, and U 0.1155 mm",
        TRAVEL,
        STROKE,
        "mm",
        (("11.2", W), ("12.45", M), ("12.55", M), ("12.7", X), ("10.3", X)),
        TENTH,
    ),
    (
        "contact_travel",
        "stroke with a record of it",
        TRAVEL.but(speed_zone_from_mm=4.0, speed_zone_to_mm=8.0),
        STROKE | {"travel": "0:0 10:0.2 14:4.2 18:8.6 21:12.0 24:10.9 30:11.3 40:11.2"},
        "mm",
        (("11.2", W),),
        None,
    ),
    ("contact_travel", "in inches", TRAVEL, STROKE, "in", (("0.45", W),), None),
    ("contact_travel", "erosion", TRAVEL, EROSION, "mm", (("0", W), ("3.1", X)), None),
    (
        "contact_travel",
        "no figure for wipe",
        TRAVEL,
        {"measure": "wipe"},
        "mm",
        (("4", U),),
        None,
    ),
    (
        "contact_speed",
        "closing, 2 %",
        SPEED,
        CLOSE,
        "m/s",
        (("1.0", W), ("1.19", M), ("1.3", X), ("0.7", X)),
        {"pct": 2.0, "fixed": 0.0, "unit": "m/s"},
    ),
    ("contact_speed", "opening unknown", SPEED, OPEN, "m/s", (("1.0", U),), None),
    (
        "coil_current",
        "125 V over 22 ohm, 10 % adopted",
        COIL,
        {"coil": "trip_1", "coil_record": SHOT, "mark_latch_ms": 10.5},
        "A",
        (("5.9", W), ("6.2", M), ("6.5", X), ("4.9", X)),
        {"pct": 2.0, "fixed": 0.0, "unit": "A"},
    ),
    (
        "coil_current",
        "20 % of the baseline adopted, U 2 % of both",
        Subject(
            given=(replace(BAND, quantity="coil_current_change", value=20.0),)
        ).at_point(Baseline(value=5.0, unit="A", expanded=0.1, round="Acceptance 1")),
        {"coil": "close"},
        "A",
        (("5.5", W), ("5.95", M), ("6.3", X), ("3.8", X)),
        {"pct": 1.7320508, "fixed": 0.0, "unit": "A"},
    ),
    (
        "coil_current",
        "nothing adopted",
        Subject(coil_a=5.7),
        {"coil": "trip_1"},
        "A",
        (("5.9", U),),
        None,
    ),
    ("coil_voltage", "trip by ANSI", ANSI, TRIP, "V", (("70", W), ("72", X)), None),
    ("coil_voltage", "trip by the IEC", IEC, TRIP, "V", (("72", W), ("88", X)), None),
    (
        "coil_voltage",
        "ac by the IEC",
        IEC_AC,
        TRIP,
        "V",
        (("102", W), ("103", X)),
        None,
    ),
    (
        "coil_voltage",
        "a release drops out, 1 V",
        ANSI,
        DROP,
        "V",
        (("37", M), ("36", X), ("60", W), ("76.5", X)),
        {"pct": 0.0, "fixed": 1.0, "unit": "V"},
    ),
    ("coil_voltage", "by the IEC from 43.75 V", IEC, DROP, "V", (("43", X),), None),
    ("coil_voltage", "no nominal voltage", Subject(), TRIP, "V", (("60", U),), None),
    (
        "spring_charging",
        "the maker's before 15 s",
        Subject(charge_s_max=12.0),
        {"motor_a": 4.1},
        "s",
        (("11.9", M), ("11.5", W), ("12.5", X)),
        {"pct": 0.0, "fixed": 0.2, "unit": "s"},
    ),
    (
        "spring_charging",
        "the motor's current too",
        Subject(motor_a_max=5.0),
        {"motor_a": 5.2},
        "s",
        (("9", X),),
        None,
    ),
    (
        "spring_charging",
        "a counter that moved",
        Subject(),
        {"counter_as_found": 1204, "counter_as_left": 1216},
        "s",
        (("9", W),),
        None,
    ),
    (
        "spring_charging",
        "a counter that ran backwards",
        Subject(),
        {"counter_as_found": 1216, "counter_as_left": 1204},
        "s",
        (("9", W),),
        None,
    ),
    (
        "spring_charging",
        "15 s",
        Subject(),
        {},
        "s",
        (("15", W), ("15.1", X), (">5", U)),
        None,
    ),
    (
        "power_factor",
        "0.5 %",
        FACTOR,
        MEASURED,
        "%",
        (("0.31", W), ("0.49", M), ("0.6", X)),
        {"pct": 1.0, "fixed": 0.02, "unit": "%"},
    ),
    ("power_factor", "no limit", Subject(), MEASURED, "%", (("0.31", U),), None),
    ("power_factor", "no voltage", FACTOR, {}, "%", (("0.31", U),), None),
)
CASES = tuple(
    Case(
        name=f"{procedure.replace('_', ' ')}: {what}",
        procedure=procedure,
        subject=subject,
        readings=tuple(
            Reading(text=text, unit=unit, conditions=conditions, accuracy=accuracy)
            for text, _ in found
        ),
        by_hand=tuple(one for _, one in found),
    )
    for procedure, what, subject, conditions, unit, found, accuracy in ROWS
)

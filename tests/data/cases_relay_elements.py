"""Golden cases: pickup, drop-out, definite times, arc light, injection, end to end.

By hand, each figure from the table that the case names.
"""

from typing import Any

from models.procedures import Subject
from models.procedures.given import Given as GivenFigure
from tests.data.golden_case import Case, Given, Hand, hand

NOTHING = Subject()
TENTH_PCT = {"pct": 0.1, "fixed": 0.0, "unit": None}
OUTCOMES = ("no_trip", "operated", "as_expected", "not_as_expected")


def case(
    procedure: str,
    name: str,
    text: str,
    unit: str,
    known: dict[str, Any],
    found: Hand,
    subject: Subject = NOTHING,
    why: str = "",
    accuracy: dict[str, Any] | None = None,
) -> Case:
    given = Given(
        text=text,
        unit=None if text in OUTCOMES else unit,
        accuracy=accuracy,
        conditions=known,
    )
    return Case(
        name=f"{procedure}: {name}",
        procedure=procedure,
        subject=subject,
        readings=(given,),
        by_hand=(found,),
        why=why,
    )


def adopted(quantity: str, value: float) -> Subject:
    one = GivenFigure(
        quantity=quantity,
        value=value,
        standing="project",
        scope="lineup",
        document="the project's paper",
    )
    return Subject(given=(one,), ct_primary_a=600.0, ct_secondary_a=5.0)


SET = Subject(
    pickup_a=320.0,
    inst_pickup_a=4000.0,
    ground_pickup_a=60.0,
    dropout_pct=95.0,
    dropout_pct_max=99.0,
)
PICKUP = {"element": "51", "relay_edge": "pickup"}
INSTANT = PICKUP | {"element": "50"}
GROUND = PICKUP | {"element": "51n"}
DROP = {"element": "51", "relay_edge": "drop_out", "measured_pickup_a": 326.0}
# Both elements of one card were read: each drop-out has its own pickup.
BOTH = {"measured_pickup_a": 326.0, "measured_ground_pickup_a": 61.0}
GROUND_DROP = {"element": "51n", "relay_edge": "drop_out"}
FIVE_PCT = {"limit_low": 304.0, "limit_high": 336.0}
PICKUPS = tuple(
    case("relay_pickup", name, text, "A", known, found, subject, accuracy=accuracy)
    for name, text, known, found, subject, accuracy in (
        ("within 5 %", "330", PICKUP, hand("within", **FIVE_PCT), SET, TENTH_PCT),
        (
            "with its transformer",
            "330",
            PICKUP,
            hand("within", **FIVE_PCT),
            SET.but(ct_primary_a=600.0, ct_secondary_a=5.0),
            None,
        ),
        ("beyond it", "337", PICKUP, hand("outside", **FIVE_PCT), SET, TENTH_PCT),
        ("at its edge", "335.8", PICKUP, hand("marginal", **FIVE_PCT), SET, TENTH_PCT),
        # built to operate at 1.05: 336 +- 5 % is 319.2 to 352.8
        (
            "with a factor",
            "340",
            PICKUP,
            hand("within", limit_low=319.2, limit_high=352.8),
            SET.but(pickup_factor=1.05),
            None,
        ),
        # declared 2 %: 313.6 to 326.4
        (
            "beyond a declared 2 %",
            "330",
            PICKUP,
            hand("outside", limit_low=313.6, limit_high=326.4),
            SET.but(pickup_error_pct=2.0),
            None,
        ),
        (
            "instantaneous",
            "4010",
            INSTANT,
            hand("within", limit_low=3800.0, limit_high=4200.0),
            SET,
            None,
        ),
        (
            "ground",
            "64",
            GROUND,
            hand("outside", limit_low=57.0, limit_high=63.0),
            SET,
            None,
        ),
        ("not set", "64", PICKUP | {"element": "50n"}, hand("unjudged"), SET, None),
        ("no element", "64", {"relay_edge": "pickup"}, hand("unjudged"), SET, None),
        # 316 / 326 is 96.933 %, 305 is 93.558 %, 325 is 99.693 %
        ("drop-out", "316", DROP, hand("within"), SET, TENTH_PCT),
        ("drop-out, too low", "305", DROP, hand("outside"), SET, TENTH_PCT),
        ("drop-out, too near", "325", DROP, hand("outside"), SET, TENTH_PCT),
        # 0.95 x 326 is 309.7; 309.9 is 95.061 %, U 0.2 / sqrt 3 % of it
        ("drop-out, at the edge", "309.9", DROP, hand("marginal"), SET, TENTH_PCT),
        (
            "drop-out without pickup",
            "316",
            {"element": "51", "relay_edge": "drop_out"},
            hand("unjudged"),
            SET,
            None,
        ),
        # 58.6 / 61 is 96.066 %; of the phase element's 326 A it would be 17.98 %
        ("ground drop-out", "58.6", GROUND_DROP | BOTH, hand("within"), SET, TENTH_PCT),
        ("phase drop-out", "316", DROP | BOTH, hand("within"), SET, TENTH_PCT),
        (
            "ground drop-out beside a phase pickup alone",
            "58.6",
            GROUND_DROP | {"measured_pickup_a": 326.0},
            hand("unjudged"),
            SET,
            TENTH_PCT,
        ),
        (
            "instantaneous drop-out",
            "3900",
            {
                "element": "50",
                "relay_edge": "drop_out",
                "measured_inst_pickup_a": 4010.0,
            },
            hand("within"),
            SET,
            None,
        ),
        (
            "instantaneous ground drop-out, too low",
            "500",
            {
                "element": "50n",
                "relay_edge": "drop_out",
                "measured_ground_inst_pickup_a": 600.0,
            },
            hand("outside"),
            SET,
            None,
        ),
        ("drop-out undeclared", "316", DROP, hand("unjudged"), Subject(), None),
        (
            "drop-out beside a pickup of another element",
            "58",
            GROUND_DROP | {"measured_ground_pickup_a": 326.0},
            hand(
                "unjudged",
                "The measured pickup of the ground time element 326 A is above "
                "the 75 A that is wanted at most. Is it of another element?",
            ),
            SET,
            None,
        ),
    )
)

VOLTS = Subject(set_value=96.0, set_unit="V", dropout_pct_max=103.0)
UNDER = {"relay_edge": "pickup"}
BACK = {"relay_edge": "drop_out", "measured_pickup_v": 96.2}
LEVEL = {"limit_low": 94.56, "limit_high": 97.44}  # 96 +- 1.5 %
VOLTAGES = tuple(
    case(
        "relay_voltage_pickup",
        name,
        text,
        "V",
        known,
        found,
        subject,
        accuracy=TENTH_PCT,
    )
    for name, text, known, found, subject in (
        ("within 1.5 %", "97", UNDER, hand("within", **LEVEL), VOLTS),
        ("at its edge", "97.4", UNDER, hand("marginal", **LEVEL), VOLTS),
        ("beyond it", "94.3", UNDER, hand("outside", **LEVEL), VOLTS),
        # 98.7 / 96.2 is 102.60 %, 99.5 is 103.43 %
        ("lets go", "98.7", BACK, hand("within"), VOLTS),
        ("lets go too late", "99.5", BACK, hand("outside"), VOLTS),
        (
            "set in hertz",
            "97",
            UNDER,
            hand("unjudged"),
            Subject(set_value=59.0, set_unit="Hz"),
        ),
    )
)
HERTZ = Subject(set_value=59.0, set_unit="Hz")
FREQUENCIES = tuple(
    case("relay_frequency", name, text, "Hz", {}, found, subject, accuracy=accuracy)
    for name, text, found, subject, accuracy in (
        ("within 0.02 Hz", "58.985", hand("within"), HERTZ, None),
        ("beyond it", "58.97", hand("outside"), HERTZ, None),
        (
            "at its edge",
            "58.981",
            hand("marginal", limit_low=58.98, limit_high=59.02),
            HERTZ,
            {"pct": 0.0, "fixed": 0.002, "unit": "Hz"},
        ),
        (
            "declared wider",
            "58.97",
            hand("within"),
            HERTZ.but(frequency_error_hz=0.05),
            None,
        ),
        ("not set", "58.97", hand("unjudged"), Subject(), None),
    )
)

DELAYS = Subject(set_delay_s=0.5, failure_delay_s=0.16)
TIMES = tuple(
    case(
        "relay_definite_time",
        name,
        text,
        "s",
        {} if timed_as is None else {"timed_as": timed_as},
        found,
        subject,
        accuracy=accuracy,
    )
    for name, text, timed_as, found, subject, accuracy in (
        # the greater of 5 % (25 ms) and 35 ms
        (
            "definite",
            "0.53",
            "definite",
            hand("within", limit_low=0.465, limit_high=0.535),
            DELAYS,
            None,
        ),
        ("definite, late", "0.54", "definite", hand("outside"), DELAYS, None),
        (
            "definite, at the edge",
            "0.5345",
            "definite",
            hand("marginal"),
            DELAYS,
            {"pct": 0.0, "fixed": 0.001, "unit": "s"},
        ),
        ("definite, never", "no_trip", "definite", hand("outside"), DELAYS, None),
        # 2 % of 160 ms or 20 ms: 140 to 180 ms
        (
            "breaker failure",
            "0.175",
            "breaker_failure",
            hand("within", limit_low=0.14, limit_high=0.18),
            DELAYS,
            None,
        ),
        (
            "breaker failure, early",
            "0.139",
            "breaker_failure",
            hand("outside"),
            DELAYS,
            None,
        ),
        ("instantaneous", "0.0155", "instantaneous", hand("within"), DELAYS, None),
        (
            "instantaneous, slow",
            "0.017",
            "instantaneous",
            hand("outside"),
            DELAYS,
            None,
        ),
        (
            "instantaneous by the maker's",
            "0.017",
            "instantaneous",
            hand("within", limit_high=0.03),
            DELAYS.but(operate_ms_max=30.0),
            None,
        ),
        ("detector resets", "0.016", "failure_reset", hand("outside"), DELAYS, None),
        ("lockout", "0.008", "lockout", hand("within"), DELAYS, None),
        # a record of a lockout relay measured 15.97 ms: beyond half a cycle
        ("lockout, slow", "0.01597", "lockout", hand("outside"), DELAYS, None),
        ("stays", "no_trip", "must_not_operate", hand("within"), DELAYS, None),
        ("does not stay", "0.4", "must_not_operate", hand("outside"), DELAYS, None),
        ("no delay set", "0.4", "definite", hand("unjudged"), Subject(), None),
        ("not said", "0.4", None, hand("unjudged"), DELAYS, None),
    )
)

ARC = tuple(
    case(
        "arc_flash_relay",
        name,
        text,
        "ms",
        {"arc_test": test},
        found,
        accuracy=accuracy,
    )
    for name, text, test, found, accuracy in (
        ("quick", "2.1", "light_and_current", hand("within", limit_high=0.0025), None),
        ("slow", "2.6", "light_and_current", hand("outside"), None),
        (
            "at the edge",
            "2.48",
            "light_and_current",
            hand("marginal"),
            {"pct": 0.0, "fixed": 0.05, "unit": "ms"},
        ),
        ("does not see", "no_trip", "light_and_current", hand("outside"), None),
        ("light alone", "no_trip", "light_alone", hand("within"), None),
        ("trips by light alone", "2.1", "light_alone", hand("outside"), None),
        (
            "through the breaker",
            "operated",
            "through_the_breaker",
            hand("within"),
            None,
        ),
        ("without a time", "operated", "light_and_current", hand("unjudged"), None),
    )
)

RCA = Subject(rca_deg=-45.0)
ANGLES = tuple(
    case(
        "relay_angle",
        name,
        text,
        "deg",
        {} if boundary is None else {"boundary": boundary},
        found,
        subject,
        accuracy=accuracy,
    )
    for name, text, boundary, found, subject, accuracy in (
        # -45 + 90 is 45; within 2 degrees
        ("inside", "46.2", "plus_90", hand("within"), RCA, None),
        ("outside", "47.5", "plus_90", hand("outside"), RCA, None),
        (
            "at the edge",
            "46.95",
            "plus_90",
            hand("marginal"),
            RCA,
            {"pct": 0.0, "fixed": 0.1, "unit": "deg"},
        ),
        ("the other side", "-135.9", "minus_90", hand("within"), RCA, None),
        ("counted round", "224.1", "minus_90", hand("within"), RCA, None),
        # 270 + 90 is 360: 359.9 and 0.1 are both a tenth from it
        ("across zero", "0.1", "plus_90", hand("within"), Subject(rca_deg=-90.0), None),
        ("before it", "359.9", "plus_90", hand("within"), Subject(rca_deg=-90.0), None),
        ("not set", "46.2", "plus_90", hand("unjudged"), Subject(), None),
        ("not said", "46.2", None, hand("unjudged"), RCA, None),
    )
)

FIVE = adopted("current_injection_tolerance", 5.0)
PRIMARY = {"injection": "primary", "injected_a": 300.0}  # through 600:5, 2.5 A
CURRENTS = tuple(
    case("current_injection", name, text, "A", known, found, subject, accuracy=accuracy)
    for name, text, known, found, subject, accuracy in (
        (
            "as injected",
            "2.47",
            PRIMARY,
            hand("within", limit_low=2.375, limit_high=2.625),
            FIVE,
            None,
        ),
        ("half of it", "1.25", PRIMARY, hand("outside"), FIVE, None),
        ("at the edge", "2.624", PRIMARY, hand("marginal"), FIVE, TENTH_PCT),
        (
            "secondary",
            "2.47",
            {"injection": "secondary", "injected_a": 2.5},
            hand("within", limit_low=2.375, limit_high=2.625),
            FIVE,
            None,
        ),
        (
            "too little",
            "0.8",
            {"injection": "primary", "injected_a": 100.0},
            hand("unjudged"),
            FIVE,
            None,
        ),
        (
            "not adopted",
            "2.47",
            PRIMARY,
            hand("unjudged"),
            Subject(ct_primary_a=600.0, ct_secondary_a=5.0),
            None,
        ),
        ("no ratio", "2.47", PRIMARY, hand("unjudged"), Subject(), None),
    )
)
TWO = adopted("voltage_injection_tolerance", 2.0)
AT_DEVICE = {"measured_at": "device", "injected_v": 66.4}
AT_PRIMARY = {"measured_at": "primary_side", "injected_v": 66.4}
FED = tuple(
    case(
        "voltage_injection",
        name,
        text,
        "V",
        known,
        found,
        subject,
        accuracy=None if text in OUTCOMES else TENTH_PCT,
    )
    for name, text, known, found, subject in (
        (
            "as fed",
            "66.1",
            AT_DEVICE,
            hand("within", limit_low=65.072, limit_high=67.728),
            TWO,
        ),
        ("at the edge", "67.70", AT_DEVICE, hand("marginal"), TWO),
        ("line for phase", "115", AT_DEVICE, hand("outside"), TWO),
        ("nothing comes back", "as_expected", AT_PRIMARY, hand("within"), TWO),
        ("the primary is live", "not_as_expected", AT_PRIMARY, hand("outside"), TWO),
        ("not adopted", "66.1", AT_DEVICE, hand("unjudged"), Subject()),
    )
)

ALLOWED = {"breaker_s": 0.045, "arcing_s": 0.008, "clearing_s": 0.1}
WHOLE = tuple(
    case("end_to_end_time", name, text, "s", known, found, accuracy=accuracy)
    for name, text, known, found, accuracy in (
        # 0.031 + 0.045 + 0.008 is 0.084
        ("inside the study", "0.031", ALLOWED, hand("within"), None),
        ("beyond it", "0.048", ALLOWED, hand("outside"), None),
        (
            "at it",
            "0.0465",
            ALLOWED,
            hand("marginal"),
            {"pct": 0.0, "fixed": 0.001, "unit": "s"},
        ),
        (
            "timed through",
            "0.095",
            ALLOWED | {"breaker_s": 0.0, "arcing_s": 0.0},
            hand("within"),
            None,
        ),
        ("no breaker", "0.031", {"clearing_s": 0.1}, hand("unjudged"), None),
    )
)
FILED = {"settings_id": "F-07 revision 3"}
# SHA-256 of "abc" and of no byte: FIPS 180-4, examples
OF_ABC = "ba7816bf 8f01cfea 414140de 5dae2223 b00361a3 96177a9c b410ff61 f20015ad"
OF_NOTHING = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
ONE_FILE = {**FILED, "issued_digest": OF_ABC, "read_digest": OF_ABC.upper()}
TWO_FILES = {**FILED, "issued_digest": OF_ABC, "read_digest": OF_NOTHING}
HALF = {**FILED, "issued_digest": OF_ABC, "read_digest": "ba7816bf"}
SETTINGS = (
    case("relay_settings", "alike", "as_expected", "", FILED, hand("within")),
    case("relay_settings", "differ", "not_as_expected", "", FILED, hand("outside")),
    case("relay_settings", "one file", "as_expected", "", ONE_FILE, hand("within")),
    case(
        "relay_settings", "files differ", "as_expected", "", TWO_FILES, hand("within")
    ),
    case("relay_settings", "half a digest", "as_expected", "", HALF, hand("within")),
    case("relay_settings", "no file", "as_expected", "", {}, hand("unjudged")),
)

CASES = (
    *PICKUPS,
    *VOLTAGES,
    *FREQUENCIES,
    *TIMES,
    *ARC,
    *ANGLES,
    *CURRENTS,
    *FED,
    *WHOLE,
    *SETTINGS,
)

"""Golden cases: what is read on live gear.

By hand: of current_angle, P 4.2 MW and Q 1.8 Mvar at 12.47 kV through 600:5 are
4.5695 MVA, 211.56 A, 1.7630 A, at atan2(1.8, 4.2) = 23.199 degrees.
"""

from typing import Any

from models.procedures import Subject
from models.procedures.given import Given as GivenFigure
from tests.data.golden_case import Case, Given, Hand, hand

HALF = {"pct": 0.5, "fixed": 0.0, "unit": None}
HALF_DEGREE = {"pct": 0.0, "fixed": 0.5, "unit": "deg"}
OUTCOMES = ("as_expected", "not_as_expected")
W, M, X, U = map(hand, ("within", "marginal", "outside", "unjudged"))


def case(
    procedure: str,
    name: str,
    text: str,
    unit: str | None,
    found: Hand,
    subject: Subject,
    why: str = "",
    accuracy: dict[str, Any] | None = None,
    **conditions: Any,
) -> Case:
    known = {name: value for name, value in conditions.items() if value is not None}
    outcome = text in OUTCOMES
    given = Given(
        text=text,
        unit=None if outcome else unit,
        accuracy=None if outcome else accuracy,
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


def adopted(**figures: float) -> Subject:
    """Return a subject for which a lead has adopted these figures."""
    given = tuple(
        GivenFigure(
            quantity=quantity,
            value=value,
            standing="project",
            scope="lineup",
            document="the project's paper",
        )
        for quantity, value in figures.items()
    )
    return Subject(given=given)


ABC = Subject(rotation="abc")
ROTATIONS = tuple(
    case("phase_rotation", name, text, None, found, subject)
    for name, text, found, subject in (
        ("as the site's", "as_expected", W, ABC),
        ("the other way", "not_as_expected", X, ABC),
        ("the site's is not set", "as_expected", U, Subject()),
    )
)

TENTH = adopted(phasing_like=10.0, phasing_unlike=10.0)
PHASINGS = tuple(
    case(
        "phasing",
        name,
        text,
        "V",
        found,
        subject,
        accuracy=HALF,
        phase_pair=pair,
        nominal_v=nominal,
    )
    for name, text, pair, nominal, found, subject in (
        ("like phases", "1.8", "like", 120.0, W, TENTH),
        ("like phases, at the edge", "12.01", "like", 120.0, M, TENTH),
        ("a third of a turn out", "120.4", "like", 120.0, X, TENTH),
        (
            "unlike phases",
            "119.2",
            "unlike",
            120.0,
            hand("within", limit_low=108, limit_high=132),
            TENTH,
        ),
        ("unlike phases, at the edge", "108.3", "unlike", 120.0, M, TENTH),
        ("no voltage between unlike ones", "1.2", "unlike", 120.0, X, TENTH),
        ("not said between which", "1.8", None, 120.0, U, TENTH),
        ("nominal not known", "1.8", "like", None, U, TENTH),
        ("not adopted, like", "1.8", "like", 120.0, U, Subject()),
        ("not adopted, unlike", "119.2", "unlike", 120.0, U, Subject()),
    )
)

MADE_FOR = Subject(indicator_v_min=3.5, indicator_v_max=6.0)
INDICATORS = tuple(
    case(
        "voltage_indication",
        name,
        text,
        "V",
        found,
        subject,
        accuracy=HALF,
        indicator_read=read,
    )
    for name, text, read, found, subject in (
        ("shows", "as_expected", "indicator", W, Subject()),
        ("shows nothing", "not_as_expected", "indicator", X, Subject()),
        (
            "at its interface",
            "4.8",
            "interface",
            hand("within", limit_low=3.5, limit_high=6),
            MADE_FOR,
        ),
        ("too little", "3.1", "interface", X, MADE_FOR),
        ("too much", "6.2", "interface", X, MADE_FOR),
        ("too close to tell", "3.51", "interface", M, MADE_FOR),
        ("not on the nameplate", "4.8", "interface", U, Subject()),
        ("not said what was read", "4.8", None, U, MADE_FOR),
        ("looked at, in volts", "4.8", "indicator", U, MADE_FOR),
    )
)

PLATE = {
    "ct_primary_a": 600.0,
    "ct_secondary_a": 5.0,
    "ct_toward": "bus",
    "rotation": "abc",
}
FIVE = adopted(service_angle=5.0, service_current=5.0).but(**PLATE)
ACB = FIVE.but(rotation="acb")
LOAD = {"load_kw": 4200.0, "load_kvar": 1800.0, "load_kv": 12.47, "service_a": 1.76}


def angle(
    name: str,
    text: str,
    phase: str | None,
    found: Hand,
    subject: Subject = FIVE,
    reference: str | None = "va",
    **conditions: Any,
) -> Case:
    return case(
        "current_angle",
        name,
        text,
        "deg",
        found,
        subject,
        accuracy=HALF_DEGREE,
        phase=phase,
        reference_phase=reference,
        **{**LOAD, **conditions},
    )


def about(expected: float) -> Hand:
    """Return what lies within 5 degrees of the expected angle."""
    return hand("within", limit_low=expected - 5, limit_high=expected + 5)


EXPECTED = tuple(
    angle(
        f"{name}, phase {phase.upper()}",
        str(expected),
        phase,
        about(expected),
        subject,
        reference,
    )
    for name, subject, reference, angles in (
        ("A-B-C against Va", FIVE, "va", (-23.199, -143.20, 96.801)),
        ("A-B-C against Vab", FIVE, "vab", (-53.199, -173.20, 66.801)),
        ("A-C-B against Va", ACB, "va", (-23.199, 96.801, -143.20)),
        ("A-C-B against Vab", ACB, "vab", (6.8014, 126.80, -113.20)),
        (
            "CT turned round",
            FIVE.but(ct_toward="feeder"),
            "va",
            (156.80, 36.801, -83.199),
        ),
    )
    for phase, expected in zip("abc", angles, strict=True)
)
ANGLES = (
    *EXPECTED,
    # -25.1 less -23.199 is -1.901
    angle("as measured", "-25.1", "a", about(-23.199)),
    # 96.6 less -143.20 is 239.80, or -120.20 the shorter way round
    angle("B and C swapped, at B", "96.6", "b", X),
    angle("B and C swapped, at C", "-143.0", "c", X),
    angle("at the edge", "-28.1", "a", M),
    angle("counted round", "334.9", "a", W),
    # power comes back: 180 less 23.199
    angle("load that returns", "-156.8", "a", about(-156.80), load_kw=-4200.0),
    # the reference Vb stands at -120, so that its own current is 23.199 behind
    angle("B against Vb", "-24", "b", about(-23.199), reference="vb"),
    angle("C against Vc", "-24", "c", about(-23.199), reference="vc"),
    # Vbc at -90, Vca at 150 from Va
    angle("A against Vbc", "66.8", "a", about(66.801), reference="vbc"),
    angle("A against Vca", "-173.2", "a", about(-173.20), reference="vca"),
    angle("half the current", "-24", "a", X, service_a=0.88),
    angle("too little load", "-24", "a", U, load_kw=700.0, load_kvar=300.0),
    angle("rotation not set", "-24", "a", U, FIVE.but(rotation=None)),
    angle("mark not said", "-24", "a", U, FIVE.but(ct_toward=None)),
    angle("ratio not known", "-24", "a", U, FIVE.but(ct_primary_a=None)),
    angle("power not known", "-24", "a", U, load_kw=None),
    angle("reference not said", "-24", "a", U, reference=None),
    angle("phase not said", "-24", None, U),
    angle("current not said", "-24", "a", U, service_a=None),
    angle("not adopted", "-24", "a", U, Subject(**PLATE)),
)

CASES = (*ROTATIONS, *PHASINGS, *INDICATORS, *ANGLES)

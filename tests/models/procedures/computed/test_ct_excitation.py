"""CT excitation by the class; a bad curve says what is wrong; through a round once."""

import pytest
from sqlalchemy.orm import Session

from models.judging import Accuracy, Criteria, Judgement, Reading
from models.procedures import Subject, compile_rule, judge
from tests.data.cases_words_rows import CURVE
from tests.procedure_proof import Proof

EXCITATION = "ct_excitation"
C400 = {"ct_class": "C400", "ct_rct_ohm": 0.3}
PX = {"ct_class": "PX", "knee_v": 250.0}


def judged(criteria: Criteria, text: str, curve: str, **known: object) -> Judgement:
    rule = compile_rule(EXCITATION, Subject(**known), criteria)
    at = {"excitation": curve}
    stated = Accuracy(0.5, 0.0)
    reading = Reading(key="a", text=text, unit="V", accuracy=stated, conditions=at)
    return judge([(rule, reading)])[0]


def test_a_c_class_is_checked_at_its_terminals(criteria: Criteria) -> None:
    """437.81 - 100 x 0.30 = 407.81 V, U 2.5277 V: the design reference, 6.1."""
    working = " ".join(judged(criteria, "407.8", CURVE, **C400).working)
    assert "where the row reaches 10 A, is 437.8 V" in working
    assert "= 437.8 V − 30 = 407.8 V." in working
    assert "± 2.528 V" in working
    assert "the knee is at 264.4 V and 0.05430 A" in working
    assert "the knee is at 226.4 V and 0.04203 A" in working
    assert "the knee is at 248.8 V and 0.04752 A" in working


PAIRS = CURVE.split()
# What a crew brings -> what is said of it.
BAD: dict[str, tuple[str, str]] = {
    "out of order": (" ".join(reversed(PAIRS)), "cannot be read"),
    "too few": (" ".join(PAIRS[10:16]), "6 points, and 8 are wanted"),
    "a plateau": (
        CURVE.replace("0.04089", "0.03782"),
        "0.03782 A at 220 V does not lie above 0.03782 A at 200 V",
    ),
    "a current that falls": (CURVE.replace("0.04089", "0.03"), "does not lie above"),
    "steps too wide": (" ".join(PAIRS[::2]), "next to the knee at most 10 % is wanted"),
    "it stops too soon": (
        " ".join(PAIRS[:14]),
        "No knee up to 280 V, where the row ends: it lies where 10 % more voltage "
        "raises the current by 50 %. Go higher.",
    ),
    "only the toe is missing": (" ".join(PAIRS[14:]), "begins above it. Begin lower"),
}


@pytest.mark.parametrize(("curve", "said"), BAD.values(), ids=BAD)
def test_a_bad_curve_is_unjudged_and_says_why(
    criteria: Criteria, curve: str, said: str
) -> None:
    found = judged(criteria, "264.4", curve, **PX)
    assert found.verdict == "unjudged"
    assert said in found.reason


# The curve of a C class -> why its terminal voltage cannot be told.
SHORT = {
    "it stops below 10 A": (
        " ".join(PAIRS[:-1]),
        "the row ends at 420 V, and goes up to 5.619 A of the 10 A that are sought",
    ),
    "it begins above 10 A": ("440:10.72 450:11 460:12 470:13", "4 points, and 8"),
}


# I = 1e-4 V + 1e-4 V (V/300)^20: the slope of its toe is 1 throughout (reference, 6.1).
TOE_OF_1 = " ".join(
    f"{volts}:{1e-4 * volts * (1 + (volts / 300) ** 20):.6g}"
    for volts in (20, 40, 60, 80, 100, 150, 200, 220, 240, 260, 280, 300, 320, 340)
)


def test_a_toe_that_is_as_steep_as_the_knee_marks_none(criteria: Criteria) -> None:
    found = judged(criteria, "264.4", TOE_OF_1, **C400, knee_v=250.0)
    assert found.verdict == "unjudged"
    assert "nowhere flatter than a slope of 0.95" in " ".join(found.working)


@pytest.mark.parametrize(("curve", "said"), SHORT.values(), ids=SHORT)
def test_a_c_class_says_how_far_its_curve_goes(
    criteria: Criteria, curve: str, said: str
) -> None:
    found = judged(criteria, "407.8", curve, **C400)
    assert found.verdict == "unjudged"
    assert said in found.reason
    assert said in " ".join(found.working)


def test_a_maker_s_curve_that_cannot_be_read_gives_no_limit(criteria: Criteria) -> None:
    for curve in ("see drawing", "100:0.02", "100:1 50:2"):
        found = judged(criteria, "264.4", CURVE, ct_curve=curve)
        assert "nor a curve of the maker is known" in found.reason


PROOF = Proof(
    procedure=EXCITATION,
    programme="Acceptance, draw-out breakers",
    gear="metal_clad",
    apparatus=("ct", "CT 1", C400),
    unit="V",
    readings=("407.8", "407.9", "407.5"),
    conditions={"excitation": CURVE},
)


def test_it_goes_through_a_round(session: Session) -> None:
    work = PROOF.begin(session)
    for label, procedure in work.cards:
        if procedure != EXCITATION:
            work.withdraw(label, procedure)
    assert set(PROOF.fill(work).values()) == {"within"}
    assert PROOF.tablet(work)["procedures"][EXCITATION]["units"] == ["V", "kV"]
    package = PROOF.package(work)
    assert [r["judgement"]["verdict"] for r in package["readings"]] == ["within"] * 3

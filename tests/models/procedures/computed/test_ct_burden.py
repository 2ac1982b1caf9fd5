"""CT burden: rated VA, a fault with offset; through a round once."""

import pytest
from sqlalchemy.orm import Session

from models.judging import Criteria, Judgement, Reading
from models.procedures import Subject, compile_rule, judge
from tests.data.cases_transformers import C400
from tests.procedure_proof import Proof

BURDEN = "ct_burden"


def judged(criteria: Criteria, text: str, amperes: float, **known: object) -> Judgement:
    rule = compile_rule(BURDEN, Subject(**known), criteria)
    reading = Reading(key="a", text=text, unit="V", conditions={"injected_a": amperes})
    return judge([(rule, reading)])[0]


def test_the_working_says_burden_both_limits_and_their_sources(
    criteria: Criteria,
) -> None:
    found = judged(criteria, "1.72", 5.0, **C400)
    working = " ".join(found.working)
    assert "The burden = 1.720 V / 5 A = 0.3440 Ω." in working
    assert "at or below the maximum 4.000 Ω" in working  # B-4.0, 100 VA over 25
    assert "at or below the maximum 0.3692 Ω" in working
    assert "20 kA with X/R 12; from memory" in working


def test_a_burden_of_one_ampere_is_25_times_as_many_ohms(criteria: Criteria) -> None:
    """B-2.0 on a 1 A secondary is 50 ohm: a published IEEE interpretation."""
    rule = compile_rule(BURDEN, Subject(ct_class="C200", ct_secondary_a=1.0), criteria)
    assert [bound["value"] for bound in rule.bounds] == [50.0]


UNJUDGED: dict[str, tuple[dict[str, object], float, str]] = {
    "nothing known": ({}, 5.0, "Neither the rated burden"),
    "the winding is asked for and not known": (
        {"ct_class": "5P", "ct_alf": 20.0, "ct_primary_a": 1200.0, "x_over_r": 12.0},
        5.0,
        "Neither the rated burden",
    ),
    "less than rated current": (C400, 1.0, "1 A is below the 5 A that is wanted"),
}


@pytest.mark.parametrize(
    ("known", "amperes", "reason"), UNJUDGED.values(), ids=UNJUDGED
)
def test_what_is_not_known_is_unjudged(
    criteria: Criteria, known: dict[str, object], amperes: float, reason: str
) -> None:
    found = judged(criteria, "0.9", amperes, **known)
    assert (found.verdict.value, reason in found.reason) == ("unjudged", True)


PROOF = Proof(
    procedure=BURDEN,
    programme="Acceptance, draw-out breakers",
    gear="metal_clad",
    apparatus=("ct", "CT 1", C400),
    unit="V",
    readings=("1.12", "1.10", "1.15", "1.72"),
    conditions={"injected_a": 5.0},
)


def test_it_goes_through_a_round(session: Session) -> None:
    work = PROOF.begin(session)
    for label, procedure in work.cards:
        if procedure != BURDEN:
            work.withdraw(label, procedure)
    assert set(PROOF.fill(work).values()) == {"within"}
    assert PROOF.tablet(work)["procedures"][BURDEN]["units"] == ["V", "mV"]
    package = PROOF.package(work)
    assert [r["judgement"]["verdict"] for r in package["readings"]] == ["within"] * 4

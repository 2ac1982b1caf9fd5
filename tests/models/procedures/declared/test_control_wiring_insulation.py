"""Control wiring: at least 2 MOhm at the dc voltage for its rating.

Voltages: copy of the acceptance edition of 2009, 7.3.2; the minimum is from memory.
"""

from typing import Any

import pytest
from sqlalchemy.orm import Session

from models.errors import InputError
from models.fields import read_value
from models.judging import Criteria, Reading, Verdict
from models.procedures import Subject, compile_rule, judge
from models.procedures.given import Given
from tests.procedure_proof import Proof

NAME = "control_wiring_insulation"
PROOF = Proof(
    procedure=NAME,
    programme="Acceptance, draw-out breakers",
    gear="metal_clad",
    apparatus=("control_wiring", "panel wiring", {"wiring_v": 600.0}),
    unit="MOhm",
    readings=("210", "180", "250", "190"),
    conditions={"test_v": 1000.0},
)


def test_it_goes_through_a_round(session: Session) -> None:
    work = PROOF.begin(session)
    for label, procedure in work.cards:
        if procedure != NAME:
            work.withdraw(label, procedure)
    assert set(PROOF.fill(work).values()) == {"within"}
    package = PROOF.package(work)
    assert [r["judgement"]["verdict"] for r in package["readings"]] == ["within"] * 4


def project(quantity: str, value: float) -> Given:
    return Given(
        quantity=quantity,
        value=value,
        standing="project",
        scope="lineup",
        document="Specification 26 08 00",
    )


def judged(
    criteria: Criteria, name: str, subject: Subject, text: str, unit: str, **known: Any
) -> Any:
    reading = Reading(key="1", text=text, unit=unit, conditions=known)
    return judge([(compile_rule(name, subject, criteria), reading)])[0]


def test_the_schedule_and_the_nameplate_disagree(criteria: Criteria) -> None:
    """What the project says decides, and the other rating is said."""
    both = Subject(given=(project("fuse_rating", 80.0),), fuse_a=65.0)
    known = {"single_phasing": "three_pole_trip"}
    found = judged(criteria, "fuse_rating", both, "65", "A", **known)
    assert found.verdict == Verdict.OUTSIDE
    assert "goes before the maker's 65 A on the nameplate" in str(found.cite)


def test_an_upper_end_of_a_torque_is_off_until_it_is_adopted(
    criteria: Criteria,
) -> None:
    plain = Subject(torque_lbft=50.0)
    adopted = Subject(given=(project("torque_most", 1.1),), torque_lbft=50.0)
    assert judged(criteria, "bolt_torque", plain, "60", "lb-ft").verdict == "within"
    found = judged(criteria, "bolt_torque", adopted, "60", "lb-ft")
    assert (found.verdict, found.limit_high) == ("outside", pytest.approx(55.0))


def test_a_class_typed_as_a_fraction_is_refused() -> None:
    assert read_value("meter_class_pct", "0.5") == 0.5
    with pytest.raises(InputError):
        read_value("meter_class_pct", "0.005")


def test_a_winding_measured_in_degrees_fahrenheit() -> None:
    assert read_value("temperature_c", "68", "degF") == pytest.approx(20.0)

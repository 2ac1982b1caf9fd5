"""Ratio, winding and burden of instrument transformers: what the cases do not hold.

Verdicts by hand stand in tests/data/cases_transformers.py.
"""

import pytest
from sqlalchemy.orm import Session

from models.errors import InputError
from models.judging import Criteria, Judgement, Reading, check_reading
from models.judging.rules import rests_on_memory
from models.procedures import PROCEDURES, Subject, compile_rule, judge
from tests.data.cases_transformers import BELOW, CT, RATED
from tests.procedure_proof import Proof

CLASS_05 = {**CT, "ct_class": "0.5"}


def judged(
    criteria: Criteria, procedure: str, text: str, unit: str, **given: object
) -> Judgement:
    known = given.pop("known")
    rule = compile_rule(procedure, Subject(**known), criteria)  # type: ignore[arg-type]
    reading = Reading(key="a", text=text, unit=unit, conditions=given)
    return judge([(rule, reading)])[0]


def test_the_band_of_a_ratio_says_where_it_is_from(criteria: Criteria) -> None:
    by_voltage = judged(criteria, "ct_ratio", "240.3", ":1", known=CT, **BELOW)
    by_current = judged(criteria, "ct_ratio", "240.3", ":1", known=CLASS_05, **RATED)
    assert rests_on_memory(by_voltage.cite)  # 1 %: usual field acceptance
    assert not rests_on_memory(by_current.cite)  # IEC 61869-2 on a public page
    assert "The ratio error = 100 × (240.3 : 1 / 240 − 1) = 0.1250 %." in (
        by_voltage.working
    )


def test_a_winding_is_corrected_to_75_degrees(criteria: Criteria) -> None:
    """0.352 ohm at 18 °C is 0.43146 ohm: x (234.5 + 75) / (234.5 + 18)."""
    found = judged(
        criteria,
        "ct_winding_resistance",
        "352",
        "mOhm",
        known={"ct_rct_ohm": 0.45},
        temperature_c=18.0,
    )
    assert found.corrected == pytest.approx(0.43146, rel=5e-6)


REFUSED = {
    "a ratio as two numbers": ("ct_ratio", "1200:5", ":1"),
    "a ratio below zero": ("ct_ratio", "-240", ":1"),
    "a ratio in volts": ("vt_ratio", "120", "V"),
    "a polarity as a number": ("ct_polarity", "1", None),
}


@pytest.mark.parametrize(("name", "text", "unit"), REFUSED.values(), ids=REFUSED)
def test_what_cannot_be_such_a_reading_is_refused(
    name: str, text: str, unit: str | None
) -> None:
    with pytest.raises(InputError):
        check_reading(PROCEDURES[name], text, unit)


PROOF = Proof(
    procedure="ct_ratio",
    programme="Acceptance, draw-out breakers",
    gear="metal_clad",
    apparatus=("ct", "CT 1", CLASS_05),
    unit=":1",
    readings=("240.1", "239.8", "240.3"),
    conditions=BELOW,
)


def test_it_goes_through_a_round(session: Session) -> None:
    work = PROOF.begin(session)
    for label, procedure in work.cards:
        if procedure != PROOF.procedure:
            work.withdraw(label, procedure)
    assert set(PROOF.fill(work).values()) == {"within"}
    assert PROOF.tablet(work)["procedures"]["ct_ratio"]["units"] == [":1"]
    package = PROOF.package(work)
    assert [r["judgement"]["verdict"] for r in package["readings"]] == ["within"] * 3
    drawn = PROOF.trend(work)
    assert (drawn.unit, drawn.logarithmic) == (":1", False)

"""The limit factor of a P class at another burden, and what a fault asks for."""

import pytest

from models.judging import Criteria, Reading
from models.judging.notes.limit_factor import limit_factor
from models.procedures import Subject, compile_rule, judge

P20 = {
    "ct_class": "5P",
    "ct_alf": 20.0,
    "ct_burden_va": 15.0,
    "ct_primary_a": 1200.0,
    "ct_secondary_a": 1.0,
    "ct_rct_ohm": 3.0,
}
FAULT = {"fault_ka": 20.0, "x_over_r": 12.0}


def test_by_the_form_that_is_widely_used() -> None:
    """relays-and-apparatus.md D3: ALF (Rct + rated) / (Rct + burden)."""
    assert limit_factor(20, 3, 15, 4.0) == pytest.approx(51.429, rel=5e-5)
    assert limit_factor(20, 3, 15, 15.0) == pytest.approx(20.0)


def said(criteria: Criteria, **plate: object) -> str:
    rule = compile_rule("ct_burden", Subject(**plate), criteria)
    at = {"injected_a": 1.0}
    reading = Reading(key="a", text="4.2", unit="V", accuracy=None, conditions=at)
    (judged,) = judge([(rule, reading)])
    return " ".join(judged.working)


def test_it_is_said_on_the_card_with_its_source(criteria: Criteria) -> None:
    """20 x 18 / 7.2 = 50, and 13 x 20000 / 1200 = 216.7."""
    working = said(criteria, **P20, **FAULT)
    assert "limit factor is 50.00: 20 × (3.000 + 15.00) / (3.000 + 4.200)" in working
    assert "The fault asks for 216.7 times rated current" in working
    assert "from memory" in working.split("The fault asks")[1]


@pytest.mark.parametrize(
    ("plate", "factor", "fault"),
    [(P20, True, False), (P20 | FAULT | {"ct_class": "C400"}, False, False)],
    ids=["no fault current", "a C class"],
)
def test_only_what_is_known_is_said(
    criteria: Criteria, plate: dict[str, object], factor: bool, fault: bool
) -> None:
    working = said(criteria, **plate)
    assert ("limit factor is" in working) is factor
    assert ("The fault asks" in working) is fault

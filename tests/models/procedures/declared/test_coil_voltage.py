"""Least operating voltage: ANSI/IEEE C37.06 and the IEC give other verdicts.

Ranges as breaker manuals print C37.06: 125 V dc, trip 70 V, close 100 V, a release
drops out from 38 to 75 V. IEC: shunt opening from 70 % dc and 85 % ac, closing from
85 %; a release drops out from 35 to 70 % (IEC 60947-1 as quoted).
"""

import pytest
from sqlalchemy.orm import Session

from models.judging import Criteria, Reading, Verdict
from models.procedures import Subject, compile_rule, judge
from tests.procedure_proof import Proof

COIL = "coil_voltage"
W, X, U = Verdict.WITHIN, Verdict.OUTSIDE, Verdict.UNJUDGED
DC = {"control_nominal": "125_v_dc"}
AC = {"control_nominal": "120_v_ac"}
IEC = {"control_edition": "iec"}

# What is typed in V, the coil, the nameplate, the verdict.
VOLTS: dict[str, tuple[str, str, dict[str, str], Verdict]] = {
    "trip, 56 % by ANSI": ("70", "trip_1", DC, W),
    "trip above it": ("71", "trip_2", DC, X),
    "the same by the IEC": ("71", "trip_2", DC | IEC, W),
    "trip, 70 % by the IEC": ("87.5", "trip_1", DC | IEC, W),
    "closing, 80 % by ANSI": ("101", "close", DC, X),
    "closing, 85 % by the IEC": ("106.25", "close", DC | IEC, W),
    "the motor as the closing coil": ("100", "motor", DC, W),
    "ac trip by ANSI": ("104", "trip_1", AC, W),
    "ac trip by the IEC": ("104", "trip_1", AC | IEC, X),
    "a release picks up": ("100", "undervoltage_in", DC, W),
    "24 V has 80 %": ("19.2", "undervoltage_in", {"control_nominal": "24_v_dc"}, W),
    "a release drops out too low": ("37", "undervoltage_out", DC, X),
    "a release drops out": ("38", "undervoltage_out", DC, W),
    "a release drops out too high": ("76", "undervoltage_out", DC, X),
    "that by the IEC": ("76", "undervoltage_out", DC | IEC, W),
    "it did not operate at all": (">125", "trip_1", DC, X),
    "the nominal voltage is not known": ("60", "trip_1", {}, U),
    "another voltage than the table's": ("60", "trip_1", IEC, U),
}


@pytest.mark.parametrize(
    ("text", "coil", "plate", "verdict"), VOLTS.values(), ids=VOLTS
)
def test_a_voltage(
    criteria: Criteria, text: str, coil: str, plate: dict[str, str], verdict: Verdict
) -> None:
    rule = compile_rule(COIL, Subject(**plate), criteria)
    reading = Reading(key="", text=text, unit="V", conditions={"coil": coil})
    (found,) = judge([(rule, reading)])
    assert found.verdict is verdict


def test_both_editions_are_cited(criteria: Criteria) -> None:
    def cited(plate: dict[str, str]) -> str:
        rule = compile_rule(COIL, Subject(**plate), criteria)
        reading = Reading(key="", text="60", unit="V", conditions={"coil": "trip_1"})
        return judge([(rule, reading)])[0].working[-1]

    assert "ANSI/IEEE C37.06 (as in four breaker manuals)" in cited(DC)
    assert "125 V dc" in cited(DC)
    assert "IEC 62271-1 and IEC 62271-100, shunt opening, dc" in cited(DC | IEC)
    assert "product of the table's 0.7 and the table's 125 V" in cited(DC | IEC)


PROOF = Proof(
    procedure=COIL,
    programme="Acceptance, draw-out breakers",
    gear="metal_clad",
    apparatus=("breaker", "breaker 52", DC),
    unit="V",
    readings=("82", "61", "74", "88", "97", "51"),
)


def test_each_point_fixes_its_coil(session: Session) -> None:
    work = PROOF.begin(session)
    for label, procedure in work.cards:
        if procedure != COIL:
            work.withdraw(label, procedure)
    assert PROOF.fill(work) == {
        "closing coil": "within",
        "trip coil 1": "within",
        "trip coil 2": "outside",  # 74 V, above 70 V
        "charging motor": "within",
        "undervoltage release, picks up": "within",
        "undervoltage release, drops out": "within",
    }

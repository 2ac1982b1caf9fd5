"""Bolt torque: the row of size, grade and lubrication, nothing between two rows.

The worked figures of SAE 5 are from memory of Table 100.12.1, those of bronze from the
copy of NEMA CC1-2009; 1 lb-ft = 0.45359237 x 9.80665 x 0.3048 N m by definition.
"""

from typing import Any

import pytest
from sqlalchemy.orm import Session

from models.judging import Criteria, Reading, Verdict
from models.procedures import Subject, compile_rule, judge
from tests.procedure_proof import Proof

DRY = {"bolt_lubricated": False}
# Diameter, material, the torque in lb-ft, the same in N m to the digits of the sheet.
ROWS: dict[str, tuple[float, str, float, str]] = {
    "3/8 in, SAE 5": (0.375, "grade_5", 20.0, "27.116"),
    "1/2 in, SAE 5": (0.5, "grade_5", 48.0, "65.079"),
    "5/8 in, SAE 5": (0.625, "grade_5", 96.0, "130.16"),
    "3/4 in, bronze": (0.75, "bronze", 87.0, "117.96"),
    "5/16 in, SAE 8": (0.3125, "grade_8", 18.0, "24.405"),
}


@pytest.mark.parametrize(
    ("size", "material", "torque", "in_nm"), ROWS.values(), ids=ROWS
)
def test_a_wrench_set_to_the_row(
    criteria: Criteria, size: float, material: str, torque: float, in_nm: str
) -> None:
    rule = compile_rule("bolt_torque", Subject(), criteria)
    known: dict[str, Any] = {"bolt_diameter_in": size, "bolt_material": material, **DRY}
    texts = (f"{torque:g}", f"{torque - 0.1:g}")
    readings = [Reading(key=t, text=t, unit="lb-ft", conditions=known) for t in texts]
    at, below = judge([(rule, one) for one in readings])
    assert (at.verdict, below.verdict) == (Verdict.WITHIN, Verdict.OUTSIDE)
    newton_metres = torque * 0.45359237 * 9.80665 * 0.3048
    assert f"{newton_metres:.5g}" == in_nm
    said = Reading(key="Nm", text=repr(newton_metres), unit="Nm", conditions=known)
    assert judge([(rule, said)])[0].corrected == pytest.approx(torque)


WANTING: dict[str, tuple[dict[str, Any], str]] = {
    "a size that is no row": (
        {"bolt_diameter_in": 0.55, "bolt_material": "grade_5", **DRY},
        "has no row for this diameter",
    ),
    "a metric bolt, 10 mm": (
        {"bolt_diameter_in": 10 / 25.4, "bolt_material": "stainless"},
        "has no row for this diameter",
    ),
    "material not said": ({"bolt_diameter_in": 0.5}, "what the bolt is made of"),
    "lubricated steel": (
        {"bolt_diameter_in": 0.5, "bolt_material": "grade_5", "bolt_lubricated": True},
        "no row for a lubricated steel bolt",
    ),
}


@pytest.mark.parametrize(("known", "said"), WANTING.values(), ids=WANTING)
def test_what_is_wanting_is_said(
    criteria: Criteria, known: dict[str, Any], said: str
) -> None:
    reading = Reading(key="1", text="48", unit="lb-ft", conditions=known)
    rule = compile_rule("bolt_torque", Subject(), criteria)
    (found,) = judge([(rule, reading)])
    assert found.verdict == Verdict.UNJUDGED
    assert said in found.reason
    maker = compile_rule("bolt_torque", Subject(torque_lbft=48.0), criteria)
    assert judge([(maker, reading)])[0].verdict == Verdict.WITHIN


def test_a_doubtful_row_says_so(criteria: Criteria) -> None:
    known = {"bolt_diameter_in": 0.3125, "bolt_material": "grade_8", **DRY}
    rule = compile_rule("bolt_torque", Subject(), criteria)
    reading = Reading(key="1", text="18", unit="lb-ft", conditions=known)
    (cite,) = judge([(rule, reading)])[0].cite
    assert cite["provenance"] == "memory"
    assert "doubtful: 1.64 times SAE 5" in cite["note"]


PROOF = Proof(
    procedure="bolt_torque",
    programme="Acceptance, draw-out breakers",
    gear="metal_clad",
    apparatus=("bus", "bus", {"conductor": "copper"}),
    unit="lb-ft",
    readings=("52", "44", "48", "48", "48", "48"),
    conditions={"bolt_diameter_in": 0.5, "bolt_material": "grade_5", **DRY},
)


def test_a_tablet_sends_a_no_as_a_no(session: Session) -> None:
    verdicts = PROOF.fill(PROOF.begin(session))
    first, second, *_ = verdicts.values()
    assert (first, second) == ("within", "outside")

"""Vacuum pressure: the magnetron method on a card of its own.

The published table's limit is 0.01 Pa; 1 mbar = 100 Pa, 1 Torr = 101 325 / 760 Pa.
"""

import pytest
from sqlalchemy.orm import Session

from models.errors import InputError
from models.judging import Criteria, Reading, Verdict
from models.procedures import Subject, compile_rule, judge
from tests.procedure_proof import Proof

PRESSURE = "vacuum_pressure"
W, X, U = Verdict.WITHIN, Verdict.OUTSIDE, Verdict.UNJUDGED
MAKER = Subject(vacuum_limit_pa=1e-3)

VERDICTS: dict[str, tuple[str, str, Subject, Verdict]] = {
    "at the limit": ("1e-2", "Pa", Subject(), W),
    "above it": ("1.1e-2", "Pa", Subject(), X),
    "in millipascals": ("10", "mPa", Subject(), W),
    "in millipascals, above": ("11", "mPa", Subject(), X),
    "in micropascals": ("210", "\u00b5Pa", Subject(), W),
    "in millibars": ("1e-4", "mbar", Subject(), W),
    "in torrs": ("7.5e-5", "Torr", Subject(), W),
    "in torrs, above": ("7.6e-5", "Torr", Subject(), X),
    "under range": ("<1e-3", "Pa", Subject(), W),
    "over range below the limit": (">1e-3", "Pa", Subject(), U),
    "the maker's limit": ("2e-3", "Pa", MAKER, X),
    "the maker's limit, in micropascals": ("900", "uPa", MAKER, W),
}


@pytest.mark.parametrize(
    ("text", "unit", "subject", "verdict"), VERDICTS.values(), ids=VERDICTS
)
def test_a_pressure(
    criteria: Criteria, text: str, unit: str, subject: Subject, verdict: Verdict
) -> None:
    rule = compile_rule(PRESSURE, subject, criteria)
    (found,) = judge([(rule, Reading(key="a", text=text, unit=unit))])
    assert found.verdict is verdict


def test_a_megapascal_is_no_millipascal(criteria: Criteria) -> None:
    rule = compile_rule(PRESSURE, Subject(), criteria)
    with pytest.raises(InputError, match="'MPa' does not fit vacuum pressure: use Pa"):
        judge([(rule, Reading(key="a", text="0.3", unit="MPa"))])


@pytest.mark.parametrize("subject", [Subject(), MAKER], ids=["the table", "the maker"])
@pytest.mark.parametrize("text", ["1e-4", "1e-3", "9.9e-3", "1e-2", "1.01e-2", "<1e-3"])
def test_it_is_judged_as_the_magnetron_method_was(
    criteria: Criteria, text: str, subject: Subject
) -> None:
    """A record of before stands under vacuum integrity, and its verdict is the same."""
    before = compile_rule("vacuum_integrity", subject, criteria)
    old = Reading(key="a", text=text, unit="Pa", conditions={"method": "magnetron"})
    new = Reading(key="b", text=text, unit="Pa")
    rule = compile_rule(PRESSURE, subject, criteria)
    was, now = judge([(before, old), (rule, new)])
    assert (was.verdict, was.limit_high) == (now.verdict, now.limit_high)


PROOF = Proof(
    procedure=PRESSURE,
    programme="Acceptance, draw-out breakers",
    gear="metal_clad",
    apparatus=("breaker", "breaker 52", {"rated_kv": 15.0}),
    unit="Pa",
    readings=("2.1e-4", "3.0e-4", "6.0e-4"),
)


def test_it_goes_through_a_round(session: Session) -> None:
    work = PROOF.begin(session)
    for label, procedure in work.cards:
        if procedure != PRESSURE:
            work.withdraw(label, procedure)
    assert PROOF.fill(work) == dict.fromkeys(("pole A", "pole B", "pole C"), "within")
    assert PROOF.tablet(work)["procedures"][PRESSURE]["units"][:3] == [
        "Pa",
        "mPa",
        "uPa",
    ]
    package = PROOF.package(work)
    assert [r["unit"] for r in package["readings"]] == ["Pa"] * 3
    drawn = PROOF.trend(work)
    assert (drawn.unit, drawn.limit_high, drawn.logarithmic) == ("Pa", 0.01, True)

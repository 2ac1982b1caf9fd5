"""A frequency element: within 0.02 Hz of its setting (from memory)."""

from sqlalchemy.orm import Session

from tests.procedure_proof import Proof

PROOF = Proof(
    procedure="relay_frequency",
    programme="Acceptance, draw-out breakers",
    gear="metal_clad",
    apparatus=("relay", "81-1", {"set_value": 59.0, "set_unit": "Hz"}),
    unit="Hz",
    readings=("58.99",),
)


def test_it_goes_through_a_round(session: Session) -> None:
    work = PROOF.begin(session)
    for label, procedure in work.cards:
        if procedure != PROOF.procedure:
            work.withdraw(label, procedure)
    assert PROOF.fill(work) == {"pickup": "within"}
    package = PROOF.package(work)
    (reading,) = package["readings"]
    limits = reading["judgement"]["limit_low"], reading["judgement"]["limit_high"]
    assert tuple(map(float, limits)) == (58.98, 59.02)
    cited = [cite["document"] for cite in reading["judgement"]["cite"]]
    assert cited[0] == "Settings of this relay"
    assert PROOF.trend(work).unit == "Hz"

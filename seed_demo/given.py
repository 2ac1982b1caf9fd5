"""What the demo's projects and makers give, and what its lead adopts.

Documents and figures are the scenario's own.
"""

from dataclasses import replace
from datetime import datetime

from sqlalchemy.orm import Session

from models.services.criteria.criterion_draft import Scope, Wording
from models.services.criteria.give_criterion import give_criterion
from models.services.criteria.suggestions import STANDING, suggested_wording
from seed_demo.lineups import METAL_ENCLOSED
from seed_demo.people import LEAD, fixed_id

ADOPTED = ("coil_current_band", "coil_current_change")
WHY_ADOPTED = (
    "The maker's book gives the resistance of the coils and no band for their current: "
    "agreed with the owner's engineer until it does."
)
SWITCHES = Scope(apparatus_kind="switch")
GIVEN = (
    (
        "maker",
        Wording(
            text="140",
            unit="uOhm",
            document="Instruction book LBS-15",
            edition="edition 2",
            clause="section 6.4",
            reason="The book was delivered with the switches; the nameplate is silent.",
        ),
    ),
    (
        "project",
        Wording(
            text="130",
            unit="uOhm",
            document="Intake works specification GH-EL-014",
            edition="revision B",
            clause="clause 7.3",
            reason="The owner asks for less than the maker's book allows.",
        ),
    ),
)


def add_given(session: Session, at: datetime) -> None:
    """Enter the highest contact resistance of the switches that each asks for."""
    for standing, wording in GIVEN:
        give_criterion(
            session,
            person_id=LEAD.id,
            lineup_id=fixed_id(METAL_ENCLOSED),
            criterion_id=fixed_id(f"{standing} contact limit"),
            scope=SWITCHES,
            quantity="contact_limit",
            standing=standing,
            wording=wording,
            now=at,
        )


def adopt_suggestions(session: Session, lineup: str, at: datetime) -> None:
    """Adopt, for a lineup, what this program suggests of coils and nobody published."""
    for quantity in ADOPTED:
        wording = suggested_wording(quantity)
        assert wording is not None
        give_criterion(
            session,
            person_id=LEAD.id,
            lineup_id=fixed_id(lineup),
            criterion_id=fixed_id(f"{lineup} {quantity}"),
            scope=Scope(),
            quantity=quantity,
            standing=STANDING,
            wording=replace(wording, reason=WHY_ADOPTED),
            now=at,
        )

"""What the demo's project and the maker of its switches give, entered by the lead.

Documents and figures are the scenario's own.
"""

from datetime import datetime

from sqlalchemy.orm import Session

from models.services.criteria.criterion_draft import Scope, Wording
from models.services.criteria.give_criterion import give_criterion
from seed_demo.lineups import METAL_ENCLOSED
from seed_demo.people import LEAD, fixed_id

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

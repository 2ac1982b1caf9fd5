"""The cast of the demo: nobody here exists."""

from dataclasses import dataclass
from uuid import UUID, uuid5

NAMESPACE = UUID("6f1c2b7e-52a7-5b5e-9f63-0a9f3c8d4e21")
PASSWORD = "lineup-torque-stripe"  # noqa: S105 (the demo's, printed on every start)


def fixed_id(name: str) -> UUID:
    """Return the same identifier for the same name, run after run."""
    return uuid5(NAMESPACE, name)


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoPerson:
    """Somebody of the demo. `shown`: printed among the sign-ins."""

    sign_in: str
    name: str
    roles: tuple[str, ...]
    firm: str
    what: str
    shown: bool = True

    @property
    def id(self) -> UUID:
        """The person's identifier."""
        return fixed_id(f"person {self.sign_in}")


OWNER_FIRM = "Quillon Bay Water Board"
TEST_FIRM = "Plumbline Field Testing"

TECHNICIAN = DemoPerson(
    sign_in="technician",
    name="Tamsin Orrery",
    roles=("technician",),
    firm=TEST_FIRM,
    what="test technician: enters readings on the tablet",
)
SECOND = DemoPerson(
    sign_in="technician2",
    name="Bram Fettle",
    roles=("technician",),
    firm=TEST_FIRM,
    what="second technician",
    shown=False,
)
LEAD = DemoPerson(
    sign_in="lead",
    name="Isolde Quern",
    roles=("lead",),
    firm=TEST_FIRM,
    what="commissioning lead: disposes, approves, turns over",
)
OWNER = DemoPerson(
    sign_in="owner",
    name="Caspar Lathe",
    roles=("owner",),
    firm=OWNER_FIRM,
    what="owner's engineer: baseline and later rounds",
)
ADMINISTRATOR = DemoPerson(
    sign_in="administrator",
    name="Odile Fathom",
    roles=("administrator",),
    firm=TEST_FIRM,
    what="administrator: people, sites, instruments; signs nothing",
)
PEOPLE = (TECHNICIAN, SECOND, LEAD, OWNER, ADMINISTRATOR)

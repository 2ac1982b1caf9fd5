"""The demo's site, its people and its three lineups."""

from datetime import datetime
from itertools import chain
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from models.services.people import people
from models.services.people.assignments import assign
from models.services.setup import assets
from models.services.setup.confirm_plates import confirm_plates, plates_of
from models.services.setup.save_lineup import save_lineup
from seed_demo.lineups import LINEUPS, lineup_draft
from seed_demo.people import LEAD, OWNER_FIRM, PEOPLE, SECOND, TEST_FIRM, fixed_id

SITE = "Gannet Head intake works"
ZONE = "America/Halifax"


def add_site(session: Session, secret: str, now: datetime) -> None:
    """Add the organisations and the site."""
    people.ensure_authority(
        session, secret=secret, authority_id=fixed_id("authority"), now=now
    )
    for kind, name, address in (
        ("owner", OWNER_FIRM, "1 Weir Road, Quillon Bay"),
        ("test_firm", TEST_FIRM, "Unit 6, Old Rope Walk, Quillon Bay"),
    ):
        people.add_organisation(
            session,
            organisation_id=fixed_id(name),
            kind=kind,
            name=name,
            address=address,
        )
    assets.add_site(
        session,
        site_id=fixed_id(SITE),
        owner_id=fixed_id(OWNER_FIRM),
        name=SITE,
        address="Gannet Head, Quillon Bay",
        zone=ZONE,
    )
    session.flush()


def add_people(session: Session, secret: str, password: str, now: datetime) -> None:
    """Add the cast, with keys, and let the test firm's people work on the site."""
    for person in PEOPLE:
        people.add_person(
            session,
            person_id=person.id,
            key_id=fixed_id(f"key {person.sign_in}"),
            organisation_id=fixed_id(person.firm),
            name=person.name,
            sign_in=person.sign_in,
            roles=person.roles,
            password=password,
            secret=secret,
            now=now,
        )
        if not {"owner", "administrator"}.intersection(person.roles):
            assign(session, person_id=person.id, site_id=fixed_id(SITE), now=now)


def add_lineups(session: Session, now: datetime) -> None:
    """Enter the lineups as the lead; a technician confirms their nameplates."""
    for name in LINEUPS:
        own = chain([fixed_id(name)], iter(uuid4, None))
        lineup_id = save_lineup(
            session,
            person_id=LEAD.id,
            site_id=fixed_id(SITE),
            lineup_id=None,
            draft=lineup_draft(name),
            now=now,
            new_id=own.__next__,
        )
        confirm_all(session, lineup_id, now)


def confirm_all(session: Session, lineup_id: UUID, now: datetime) -> None:
    """Confirm the lineup's nameplates as the second technician."""
    plates = plates_of(session, person_id=SECOND.id, lineup_id=lineup_id)
    confirm_plates(
        session,
        person_id=SECOND.id,
        version_ids=[one.version_id for one in plates],
        now=now,
        new_id=uuid4,
    )

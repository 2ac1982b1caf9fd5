"""Enrol a person from the command line: organisation, key and sites at once."""

from collections.abc import Callable, Sequence
from datetime import datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import Fault, InputError
from models.schema import Organisation, Site
from models.services.people.assignments import assign
from models.services.people.new_person import FIRM_OF_ROLE
from models.services.people.people import (
    add_organisation,
    add_person,
    ensure_authority,
)


def enrol_person(
    session: Session,
    *,
    sign_in: str,
    name: str,
    roles: Sequence[str],
    organisation: str,
    address: str,
    site_names: Sequence[str],
    password: str,
    secret: str,
    now: datetime,
    new_id: Callable[[], UUID],
) -> UUID:
    """Add a person; the organisation is made if it is not there yet.

    Raises InputError naming a site that does not exist, or what `add_person`
    raises.
    """
    ensure_authority(session, secret=secret, authority_id=new_id(), now=now)
    sites = _sites(session, site_names)
    firm = session.scalars(
        select(Organisation).where(Organisation.name == organisation)
    ).first() or add_organisation(
        session,
        organisation_id=new_id(),
        kind=FIRM_OF_ROLE.get(next(iter(roles), ""), "test_firm"),
        name=organisation,
        address=address,
    )
    person = add_person(
        session,
        person_id=new_id(),
        key_id=new_id(),
        organisation_id=firm.id,
        name=name,
        sign_in=sign_in,
        roles=roles,
        password=password,
        secret=secret,
        now=now,
    )
    for site in sites:
        assign(session, person_id=person.id, site_id=site.id, now=now)
    return person.id


def _sites(session: Session, names: Sequence[str]) -> list[Site]:
    found = {
        site.name: site
        for site in session.scalars(select(Site).where(Site.name.in_(names)))
    }
    if missing := [name for name in names if name not in found]:
        raise InputError(
            *(Fault(field="site", message=f"There is no site '{n}'.") for n in missing)
        )
    return list(found.values())

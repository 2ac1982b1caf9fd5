"""The sites that somebody sets up: list them, add one, change one."""

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy import ColumnElement, Select, case, func, or_, select
from sqlalchemy.orm import Session, contains_eager

from models.errors import Fault, InputError
from models.fields import field as field_named
from models.schema import Lineup, Organisation, Person, Round, Site
from models.services.keeping.log import append_log, take_turn
from models.services.keeping.texts import text_faults
from models.services.people.access import (
    may,
    person_of,
    require,
    site_of,
    sites_to_set_up,
)
from models.services.people.assignments import assign
from models.services.setup import assets
from models.services.setup.log_change import change_fields
from models.services.setup.owners import address_faults
from models.services.setup.zones import zones
from models.services.turnover.pages import ROWS, Page, has_words, start_of

CORRECTION = "contact_correction"
# A site's state, what needs attention first -> how it is said.
STATES = {
    "bare": "no lineup yet",
    "waiting": "a lineup without a round",
    "open": "a round is open",
    "settled": "nothing is open",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteSummary:
    """A site in the list; *state* is one of STATES."""

    id: UUID
    name: str
    address: str
    zone: str
    contact_correction: str
    owner_id: UUID
    owner_name: str
    lineups: int
    open_rounds: int
    state: str


def list_sites(
    session: Session,
    *,
    person_id: UUID,
    words: str = "",
    state: str = "",
    page: int = 1,
) -> Page[SiteSummary]:
    """Return a page of the sites, those where something is missing first.

    *words*: each stands in the name or address of the site or the name of its owner.
    """
    person = person_of(session, person_id)
    require(person, "set up")
    standing = _state()
    found = _sites(person).where(has_words(words, _stands))
    if state in STATES:
        found = found.where(standing == state)
    rank = case({name: at for at, name in enumerate(STATES)}, value=standing)
    rows = session.execute(
        found.add_columns(func.count().over())
        .order_by(rank, Site.name, Site.id)
        .offset(start_of(page))
        .limit(ROWS)
    ).all()
    return Page(
        rows=[_summary(*row[:-1]) for row in rows],
        total=rows[0][-1] if rows else 0,
        number=max(1, page),
    )


def site_summary(session: Session, *, person_id: UUID, site_id: UUID) -> SiteSummary:
    """Return one site; NotFoundError where it is not this person's to see."""
    person = person_of(session, person_id)
    require(person, "set up")
    site_of(session, person, site_id)
    row = session.execute(_sites(person).where(Site.id == site_id)).one()
    return _summary(*row)


def usual_zone(session: Session, *, person_id: UUID) -> str:
    """Return the zone of most sites that the person may see, "" before the first."""
    person = person_of(session, person_id)
    counted = (
        select(Site.zone)
        .where(Site.id.in_(sites_to_set_up(person)))
        .group_by(Site.zone)
        .order_by(func.count().desc(), Site.zone)
    )
    return session.scalars(counted).first() or ""


def enter_site(
    session: Session,
    *,
    person_id: UUID,
    site_id: UUID,
    owner_id: UUID,
    name: str,
    address: str,
    zone: str,
    now: datetime,
) -> UUID:
    """Add a site of an owner; who adds it and tests or leads is assigned to it.

    Raises InputError: no name, one that the owner has already, no such zone or owner.
    """
    take_turn(session)
    person = person_of(session, person_id)
    require(person, "set up")
    name, address = name.strip(), address.strip()
    faults = _faults(session, owner_id, None, name, address, zone)
    owner = session.get(Organisation, owner_id)
    if owner is None or owner.kind != "owner":
        faults.append(Fault(field="owner", message="Choose the owner of the site."))
    if faults:
        raise InputError(*faults)
    assets.add_site(
        session,
        site_id=site_id,
        owner_id=owner_id,
        name=name,
        address=address,
        zone=zone,
    )
    body = {"owner": owner_id, "name": name, "address": address, "zone": zone}
    append_log(
        session,
        actor_id=person_id,
        action="add site",
        subject=f"site {site_id}",
        body=body,
        now=now,
    )
    if may(person, "record"):
        assign(session, person_id=person_id, site_id=site_id, by_id=person_id, now=now)
    return site_id


def change_site(
    session: Session,
    *,
    person_id: UUID,
    site_id: UUID,
    name: str,
    address: str,
    zone: str,
    contact_correction: str | None = None,
    now: datetime,
) -> bool:
    """Change what is said of a site; False where nothing was changed.

    The owner stays: what was tested there was tested for that owner. How contact
    resistance is compared holds for rounds that are opened from now on; None: as it
    was.
    """
    take_turn(session)
    person = person_of(session, person_id)
    require(person, "set up")
    site = site_of(session, person, site_id)
    name, address = name.strip(), address.strip()
    faults = _faults(session, site.owner_id, site_id, name, address, zone)
    if contact_correction not in (None, *field_named(CORRECTION).choices):
        message = "Choose how contact resistance is compared."
        faults.append(Fault(field=CORRECTION, message=message))
    if faults:
        raise InputError(*faults)
    given = {"name": name, "address": address, "zone": zone}
    if contact_correction is not None:
        given[CORRECTION] = contact_correction
    return change_fields(session, site, given, person_id=person_id, now=now)


def _faults(
    session: Session,
    owner_id: UUID,
    site_id: UUID | None,
    name: str,
    address: str,
    zone: str,
) -> list[Fault]:
    faults = text_faults("name", name, "the name of the site")
    taken = select(Site.id).where(Site.owner_id == owner_id, Site.name == name)
    others = set(session.scalars(taken)) - {site_id}
    if not faults and others:
        message = f"This owner has a site '{name}' already."
        faults.append(Fault(field="name", message=message))
    faults += address_faults(address)
    if not any(zone in names for names in zones().values()):
        message = "Choose the time zone that the site's clocks show."
        faults.append(Fault(field="zone", message=message))
    return faults


def _sites(person: Person) -> Select[Site, int, int, str]:
    lineups = select(func.count()).where(Lineup.site_id == Site.id).scalar_subquery()
    return (
        select(Site, lineups, _rounds(Round.state == "open"), _state())
        .join(Site.owner)
        .options(contains_eager(Site.owner))
        .where(Site.id.in_(sites_to_set_up(person)))
    )


def _rounds(*conditions: ColumnElement[bool]) -> ColumnElement[int]:
    rounds = select(func.count()).select_from(Round).join(Lineup)
    return rounds.where(Lineup.site_id == Site.id, *conditions).scalar_subquery()


def _state() -> ColumnElement[str]:
    lineups = select(Lineup.id).where(Lineup.site_id == Site.id)
    without = lineups.where(Lineup.id.not_in(select(Round.lineup_id)))
    return case(
        (~lineups.exists(), "bare"),
        (without.exists(), "waiting"),
        (_rounds(Round.state == "open") > 0, "open"),
        else_="settled",
    )


def _summary(site: Site, lineups: int, open_rounds: int, state: str) -> SiteSummary:
    return SiteSummary(
        id=site.id,
        name=site.name,
        address=site.address,
        zone=site.zone,
        contact_correction=site.contact_correction,
        owner_id=site.owner_id,
        owner_name=site.owner.name,
        lineups=lineups,
        open_rounds=open_rounds,
        state=state,
    )


def _stands(word: str) -> ColumnElement[bool]:
    owners = select(Organisation.id).where(
        Organisation.name.icontains(word, autoescape=True)
    )
    return or_(
        Site.name.icontains(word, autoescape=True),
        Site.address.icontains(word, autoescape=True),
        Site.owner_id.in_(owners),
    )

"""The owners of sites: list them, add one, change one."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy import ColumnElement, Select, func, or_, select
from sqlalchemy.orm import Session

from models.errors import Fault, InputError, NotFoundError
from models.schema import Organisation, Person, Site
from models.services.keeping.log import append_log, take_turn
from models.services.keeping.texts import LONGEST_TEXT, storable, text_faults
from models.services.people import people
from models.services.people.access import person_of, require, sites_to_set_up
from models.services.people.new_person import LONGEST_NAME
from models.services.setup.log_change import change_fields
from models.services.turnover.pages import ROWS, Page, has_words, start_of


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnerSummary:
    """An owner in the list; *sites* counts those that the person may see."""

    id: UUID
    name: str
    address: str
    sites: int


def list_owners(
    session: Session, *, person_id: UUID, words: str = "", page: int = 1
) -> Page[OwnerSummary]:
    """Return a page of the owners whose sites the person may see, and of those without.

    Those without a site stand first: something is missing there. *words*: each stands
    in the name or the address.
    """
    person = person_of(session, person_id)
    require(person, "set up")
    seen = _seen_sites(person)
    rows = session.execute(
        _known(person)
        .where(has_words(words, _stands))
        .add_columns(seen, func.count().over())
        .order_by(seen > 0, Organisation.name, Organisation.id)
        .offset(start_of(page))
        .limit(ROWS)
    ).all()
    return Page(
        rows=[_summary(row, sites) for row, sites, _ in rows],
        total=rows[0][2] if rows else 0,
        number=max(1, page),
    )


def owner_names(session: Session, *, person_id: UUID) -> Sequence[tuple[UUID, str]]:
    """Return id and name of every owner: a new site may be anyone's."""
    require(person_of(session, person_id), "set up")
    owners = select(Organisation.id, Organisation.name)
    found = owners.where(Organisation.kind == "owner").order_by(Organisation.name)
    return [(key, name) for key, name in session.execute(found)]


def owner_of(session: Session, *, person_id: UUID, owner_id: UUID) -> OwnerSummary:
    """Return the owner; NotFoundError where it is none, or not this person's to see."""
    person = person_of(session, person_id)
    require(person, "set up")
    return _summary(*_owner(session, person, owner_id))


def add_owner(
    session: Session,
    *,
    person_id: UUID,
    owner_id: UUID,
    name: str,
    address: str,
    now: datetime,
) -> UUID:
    """Add an owner of sites.

    Raises InputError: no name, one too long for a certificate, or one that is taken.
    """
    take_turn(session)
    require(person_of(session, person_id), "set up")
    name, address = name.strip(), address.strip()
    if faults := address_faults(address):
        raise InputError(*faults)
    people.add_organisation(
        session, organisation_id=owner_id, kind="owner", name=name, address=address
    )
    append_log(
        session,
        actor_id=person_id,
        action="add owner",
        subject=f"organisation {owner_id}",
        body={"name": name, "address": address},
        now=now,
    )
    return owner_id


def change_owner(
    session: Session,
    *,
    person_id: UUID,
    owner_id: UUID,
    name: str,
    address: str,
    now: datetime,
) -> bool:
    """Change an owner's name or address; False where nothing was changed.

    Certificates and packages that were made before keep the name that they have.
    """
    take_turn(session)
    person = person_of(session, person_id)
    require(person, "set up")
    row, _ = _owner(session, person, owner_id)
    name, address = name.strip(), address.strip()
    faults = [*_name_faults(name), *address_faults(address)]
    taken = select(Organisation.id).where(
        Organisation.name == name, Organisation.id != owner_id
    )
    if not faults and session.scalars(taken).first() is not None:
        faults.append(Fault(field="name", message=f"'{name}' is there already."))
    if faults:
        raise InputError(*faults)
    given = {"name": name, "address": address}
    return change_fields(session, row, given, person_id=person_id, now=now)


def _name_faults(name: str) -> list[Fault]:
    if len(name) > LONGEST_NAME:
        message = f"Keep it within {LONGEST_NAME} characters."
        return [Fault(field="name", message=message)]
    return text_faults("name", name, "the name")


def address_faults(address: str) -> list[Fault]:
    """Return what is wrong with an address; none is none wrong."""
    if len(address) <= LONGEST_TEXT and storable(address):
        return []
    message = f"Keep it under {LONGEST_TEXT} plain characters."
    return [Fault(field="address", message=message)]


def _seen_sites(person: Person) -> ColumnElement[int]:
    sites = select(func.count()).where(
        Site.owner_id == Organisation.id, Site.id.in_(sites_to_set_up(person))
    )
    return sites.scalar_subquery()


def _known(person: Person) -> Select[Organisation]:
    """Select the owners of sites that *person* may see, and those without any."""
    seen = select(Site.owner_id).where(Site.id.in_(sites_to_set_up(person)))
    return select(Organisation).where(
        Organisation.kind == "owner",
        or_(Organisation.id.in_(seen), Organisation.id.not_in(select(Site.owner_id))),
    )


def _owner(
    session: Session, person: Person, owner_id: UUID
) -> tuple[Organisation, int]:
    found = session.execute(
        _known(person)
        .where(Organisation.id == owner_id)
        .add_columns(_seen_sites(person))
    ).first()
    if found is None:
        raise NotFoundError("owner", owner_id)
    return found[0], found[1]


def _summary(row: Organisation, sites: int) -> OwnerSummary:
    return OwnerSummary(id=row.id, name=row.name, address=row.address, sites=sites)


def _stands(word: str) -> ColumnElement[bool]:
    return or_(
        Organisation.name.icontains(word, autoescape=True),
        Organisation.address.icontains(word, autoescape=True),
    )

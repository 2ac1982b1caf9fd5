"""Organisations and persons: adding them, and seeing them."""

from collections.abc import Callable, Collection
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID, uuid4

from argon2 import PasswordHasher
from sqlalchemy import select, true
from sqlalchemy.orm import Session, joinedload, selectinload

from models.errors import Fault, InputError, NotFoundError
from models.schema import Authority, Organisation, Person, PersonRole
from models.services.keeping.log import append_log
from models.services.people.give_key import give_key
from models.services.people.new_person import (
    FIRM_OF_ROLE,
    check_new,
    listed,
    name_faults,
    stored_sign_in,
)
from models.services.people.passwords import check_password
from models.signing import authority as signing_authority
from models.signing import seals


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonView:
    """A person who has enrolled, as pages show them."""

    id: UUID
    name: str
    sign_in: str
    roles: frozenset[str]
    organisation: str
    session_epoch: int
    key_fingerprint: str
    root_fingerprint: str


def ensure_authority(
    session: Session, *, secret: str, authority_id: UUID, now: datetime
) -> Authority:
    """Return the installation's certificate authority, made on first use."""
    row = session.scalars(select(Authority)).first()
    if row is not None:
        return row
    made = signing_authority.create_authority("Witnessmark local authority", now)
    row = Authority(
        id=authority_id,
        certificate_pem=made.certificate_pem,
        wrapped_key=signing_authority.wrap_authority(made, secret),
        created_at=now,
    )
    session.add(row)
    session.flush()
    return row


def add_organisation(
    session: Session, *, organisation_id: UUID, kind: str, name: str, address: str
) -> Organisation:
    """Add an owner or a test firm.

    Raises InputError: a kind or name that cannot be, a name that is taken.
    """
    faults = name_faults(name)
    if kind not in FIRM_OF_ROLE.values():
        faults.append(Fault(field="kind", message=f"'{kind}' is no kind of firm."))
    taken = select(Organisation.id).where(Organisation.name == name)
    if not faults and session.scalars(taken).first() is not None:
        faults.append(Fault(field="name", message=f"'{name}' is there already."))
    if faults:
        raise InputError(*faults)
    row = Organisation(id=organisation_id, kind=kind, name=name, address=address)
    session.add(row)
    session.flush()
    return row


def add_person(
    session: Session,
    *,
    person_id: UUID,
    key_id: UUID,
    organisation_id: UUID,
    name: str,
    sign_in: str,
    roles: Collection[str],
    password: str,
    secret: str,
    now: datetime,
    hasher: PasswordHasher | None = None,
    new_id: Callable[[], UUID] = uuid4,
) -> Person:
    """Add a person who is there to type their password, with a key of their own.

    *secret* opens the installation's authority, which issues the certificate;
    the private key is wrapped with the password and nothing else.
    Raises NotFoundError: no such organisation; InputError: a name that is taken or
    cannot be, no role or one that the organisation does not have, a password that
    may not be one.
    """
    organisation = organisation_of(session, organisation_id)
    check_new(session, organisation, name=name, sign_in=sign_in, roles=roles)
    check_password(password, (name, sign_in))
    person = new_person(
        session,
        organisation,
        person_id=person_id,
        name=name,
        sign_in=sign_in,
        roles=roles,
        now=now,
        new_id=new_id,
    )
    key = give_key(
        session,
        person,
        password=password,
        secret=secret,
        key_id=key_id,
        now=now,
        hasher=hasher,
    )
    append_log(
        session,
        actor_id=None,
        action="add person",
        subject=f"person {person_id}",
        body={
            "name": name,
            "sign_in": person.sign_in,
            "roles": listed(roles),
            "key": seals.fingerprint(key.certificate_pem),
        },
        now=now,
    )
    return person


def new_person(
    session: Session,
    organisation: Organisation,
    *,
    person_id: UUID,
    name: str,
    sign_in: str,
    roles: Collection[str],
    now: datetime,
    new_id: Callable[[], UUID],
) -> Person:
    """Add the row of a person whom `check_new` let pass; they have no key yet."""
    person = Person(
        id=person_id,
        organisation=organisation,
        name=name.strip(),
        sign_in=stored_sign_in(sign_in),
        password_hash=None,
        session_epoch=0,
        active=True,
        created_at=now,
        version=1,
        held_roles=[
            PersonRole(id=new_id(), role=role, since=now) for role in listed(roles)
        ],
        keys=[],
        assignments=[],
    )
    session.add(person)
    session.flush()
    return person


def organisation_of(session: Session, organisation_id: UUID) -> Organisation:
    """Return the organisation; NotFoundError where there is none."""
    organisation = session.get(Organisation, organisation_id)
    if organisation is None:
        raise NotFoundError("organisation", organisation_id)
    return organisation


def person_view(session: Session, *, person_id: UUID) -> PersonView:
    """Return an active person who has enrolled; NotFoundError otherwise."""
    row = session.execute(
        select(Person, Authority.certificate_pem)
        .join(Authority, true())
        .where(Person.id == person_id, Person.active, Person.password_hash.is_not(None))
        .options(
            joinedload(Person.organisation),
            selectinload(Person.keys),
            selectinload(Person.held_roles),
        )
    ).first()
    if row is None:
        raise NotFoundError("person", person_id)
    person, root_pem = row
    return PersonView(
        id=person.id,
        name=person.name,
        sign_in=person.sign_in,
        roles=person.roles,
        organisation=person.organisation.name,
        session_epoch=person.session_epoch,
        key_fingerprint=seals.fingerprint(person.key.certificate_pem),
        root_fingerprint=seals.fingerprint(root_pem),
    )

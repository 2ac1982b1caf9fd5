"""Organisations and persons: adding them, and seeing them."""

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID, uuid4

from argon2 import PasswordHasher
from sqlalchemy import select, true
from sqlalchemy.orm import Session, joinedload, selectinload

from models.errors import Fault, InputError, NotFoundError
from models.schema import (
    Authority,
    Organisation,
    Person,
    PersonRole,
    SigningKey,
    Site,
    SiteAssignment,
)
from models.services.keeping.log import append_log
from models.services.keeping.texts import text_faults
from models.services.people.access import ROLES, person_of
from models.services.people.passwords import hash_password
from models.signing import authority as signing_authority
from models.signing import keys, seals

# role -> the kind of organisation that has it
FIRM_OF_ROLE = {
    "lead": "test_firm",
    "technician": "test_firm",
    "owner": "owner",
    "administrator": "test_firm",
}
# Upper bounds of the common and the organisation name (RFC 5280, appendix A.1).
LONGEST_NAME = 64


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonView:
    """A person, as pages show them."""

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
    faults = _name_faults(name)
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
    """Add a person with a key of their own.

    *secret* opens the installation's authority, which issues the certificate;
    the private key is wrapped with the password and nothing else.
    Raises NotFoundError: no such organisation; InputError: a name that is taken or
    cannot be, no role or one that the organisation does not have, a password too short.
    """
    organisation = session.get(Organisation, organisation_id)
    if organisation is None:
        raise NotFoundError("organisation", organisation_id)
    _check_new(session, organisation, name=name, sign_in=sign_in, roles=roles)
    password_hash = hash_password(password, hasher)
    row = session.scalars(select(Authority)).one()
    opened = signing_authority.open_authority(
        row.wrapped_key, row.certificate_pem, secret
    )
    issued = keys.issue_key(
        opened,
        person_id=str(person_id),
        name=name,
        organisation=organisation.name,
        password=password,
        now=now,
    )
    person = Person(
        id=person_id,
        organisation_id=organisation_id,
        name=name,
        sign_in=sign_in.strip().lower(),
        password_hash=password_hash,
        session_epoch=0,
        active=True,
        created_at=now,
    )
    person.key = SigningKey(
        id=key_id,
        certificate_pem=issued.certificate_pem,
        wrapped_key=issued.wrapped,
        created_at=now,
    )
    person.held_roles = [
        PersonRole(id=new_id(), role=role, since=now) for role in _listed(roles)
    ]
    session.add(person)
    session.flush()
    append_log(
        session,
        actor_id=None,
        action="add person",
        subject=f"person {person_id}",
        body={
            "name": name,
            "sign_in": person.sign_in,
            "roles": _listed(roles),
            "key": seals.fingerprint(issued.certificate_pem),
        },
        now=now,
    )
    return person


def _check_new(
    session: Session,
    organisation: Organisation,
    *,
    name: str,
    sign_in: str,
    roles: Collection[str],
) -> None:
    faults = [
        *_name_faults(name),
        *_role_faults(organisation, roles),
        *_sign_in_faults(sign_in),
    ]
    taken = select(Person.id).where(Person.sign_in == sign_in.strip().lower())
    if not faults and session.scalars(taken).first() is not None:
        message = f"'{sign_in}' is taken; sign-in names are never given twice."
        faults.append(Fault(field="sign_in", message=message))
    if faults:
        raise InputError(*faults)


def _name_faults(name: str) -> list[Fault]:
    """Return why a certificate could not carry *name*."""
    if len(name) > LONGEST_NAME:
        message = f"Keep it within {LONGEST_NAME} characters: it is in certificates."
        return [Fault(field="name", message=message)]
    return text_faults("name", name, "the name")


def _sign_in_faults(sign_in: str) -> list[Fault]:
    """Return why nobody could sign in as *sign_in*."""
    if len(sign_in.strip().lower()) > LONGEST_NAME:
        message = f"Keep it within {LONGEST_NAME} characters."
        return [Fault(field="sign_in", message=message)]
    return text_faults("sign_in", sign_in, "the name to sign in with")


def _role_faults(organisation: Organisation, roles: Collection[str]) -> list[Fault]:
    if not roles:
        return [Fault(field="roles", message="Choose at least one role.")]
    messages = []
    for role in roles:
        if role not in FIRM_OF_ROLE:
            messages.append(f"'{role}' is none of {', '.join(FIRM_OF_ROLE)}.")
        elif organisation.kind != FIRM_OF_ROLE[role]:
            kind = organisation.kind.replace("_", " ")
            messages.append(
                f"{organisation.name} is recorded as {kind}: it has no {role}."
            )
    return [Fault(field="roles", message=message) for message in messages]


def _listed(roles: Iterable[str]) -> list[str]:
    """Return each role once, in the order in which roles are listed."""
    return sorted(set(roles), key=ROLES.index)


def assign(session: Session, *, person_id: UUID, site_id: UUID, now: datetime) -> None:
    """Let a person of a test firm see and work on a site; twice does no harm."""
    if session.get(Site, site_id) is None:
        raise NotFoundError("site", site_id)
    person_of(session, person_id)
    if session.get(SiteAssignment, (person_id, site_id)) is not None:
        return
    session.add(SiteAssignment(person_id=person_id, site_id=site_id, since=now))
    session.flush()


def person_view(session: Session, *, person_id: UUID) -> PersonView:
    """Return the person as pages show them."""
    row = session.execute(
        select(Person, Authority.certificate_pem)
        .join(Authority, true())
        .where(Person.id == person_id)
        .options(
            joinedload(Person.organisation),
            joinedload(Person.key),
            selectinload(Person.held_roles),
        )
    ).first()
    if row is None or not row[0].active:
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

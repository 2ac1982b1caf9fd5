"""Invite a person, or let them set their password anew: a link that works once."""

import hashlib
from collections.abc import Callable, Collection
from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID, uuid4

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import ConflictError, Fault, InputError, NotFoundError
from models.schema import Invitation, Person
from models.services.keeping.log import append_log, take_turn
from models.services.people.access import person_of, require
from models.services.people.new_person import check_new, listed
from models.services.people.people import new_person, organisation_of

VALID = timedelta(hours=72)
LEAST_TOKEN = 32  # characters: what is shorter was not made by chance alone


@dataclass(frozen=True, slots=True, kw_only=True)
class Invited:
    """An invitation, without its link: that is shown once."""

    id: UUID
    person_id: UUID
    name: str
    kind: str
    ends_at: datetime


def token_digest(token: str) -> str:
    """Return what is stored of a link's token: the SHA-256 in hex.

    The token is made by chance and long, so that a plain digest keeps it.
    """
    return hashlib.sha256(token.encode("utf-8", "surrogatepass")).hexdigest()


def invite(
    session: Session,
    *,
    by_id: UUID,
    person_id: UUID,
    organisation_id: UUID,
    name: str,
    sign_in: str,
    roles: Collection[str],
    token: str,
    now: datetime,
    new_id: Callable[[], UUID] = uuid4,
) -> Invited:
    """Add a person who has neither password nor key, and invite them to enrol.

    Raises ForbiddenError for whoever is no administrator, NotFoundError, and
    InputError naming what keeps the person from being added.
    """
    take_turn(session)
    require(person_of(session, by_id), "administer")
    organisation = organisation_of(session, organisation_id)
    check_new(session, organisation, name=name, sign_in=sign_in, roles=roles)
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
    append_log(
        session,
        actor_id=by_id,
        action="invite person",
        subject=f"person {person_id}",
        body={
            "name": person.name,
            "sign_in": person.sign_in,
            "roles": listed(roles),
            "organisation": organisation_id,
        },
        now=now,
    )
    return _made(session, person, by_id, token, now, new_id)


def make_link(
    session: Session,
    *,
    by_id: UUID,
    person_id: UUID,
    token: str,
    now: datetime,
    new_id: Callable[[], UUID] = uuid4,
) -> Invited:
    """Make a link for a person: to enrol, or to set password and key anew.

    A link that was made before works no more. Raises ForbiddenError,
    NotFoundError, and ConflictError for who is deactivated.
    """
    take_turn(session)
    require(person_of(session, by_id), "administer")
    person = session.get(Person, person_id)
    if person is None:
        raise NotFoundError("person", person_id)
    if not person.active:
        raise ConflictError(f"{person.name} is deactivated: reactivate them first.")
    for row in _open(session, person_id, now):
        row.withdrawn_at = now
    return _made(session, person, by_id, token, now, new_id)


def withdraw_invitation(
    session: Session, *, by_id: UUID, invitation_id: UUID, now: datetime
) -> None:
    """Make a link useless; ConflictError where it was used or ended before."""
    take_turn(session)
    require(person_of(session, by_id), "administer")
    row = session.get(Invitation, invitation_id)
    if row is None:
        raise NotFoundError("invitation", invitation_id)
    if (state := state_of(row, now)) != "open":
        raise ConflictError(f"This link is {state} already.")
    row.withdrawn_at = now
    session.flush()
    append_log(
        session,
        actor_id=by_id,
        action="withdraw invitation",
        subject=f"person {row.person_id}",
        body={"invitation": row.id, "kind": row.kind},
        now=now,
    )


def withdraw_open(session: Session, person_id: UUID, now: datetime) -> None:
    """Make every open link of a person useless."""
    for row in _open(session, person_id, now):
        row.withdrawn_at = now


def state_of(row: Invitation, now: datetime) -> str:
    """Return open, used, withdrawn or expired."""
    if row.used_at is not None:
        return "used"
    if row.withdrawn_at is not None:
        return "withdrawn"
    return "open" if now < row.ends_at else "expired"


def _open(session: Session, person_id: UUID, now: datetime) -> list[Invitation]:
    rows = session.scalars(select(Invitation).where(Invitation.person_id == person_id))
    return [row for row in rows if state_of(row, now) == "open"]


def _made(
    session: Session,
    person: Person,
    by_id: UUID,
    token: str,
    now: datetime,
    new_id: Callable[[], UUID],
) -> Invited:
    if len(token) < LEAST_TOKEN:
        raise InputError(Fault(field="token", message="The token is too short."))
    row = Invitation(
        id=new_id(),
        person_id=person.id,
        kind="reset" if person.enrolled else "enrol",
        token_sha256=token_digest(token),
        made_at=now,
        made_by_id=by_id,
        ends_at=now + VALID,
        used_at=None,
        withdrawn_at=None,
    )
    session.add(row)
    session.flush()
    append_log(
        session,
        actor_id=by_id,
        action="make invitation",
        subject=f"person {person.id}",
        body={"invitation": row.id, "kind": row.kind, "ends": row.ends_at},
        now=now,
    )
    return Invited(
        id=row.id,
        person_id=person.id,
        name=person.name,
        kind=row.kind,
        ends_at=row.ends_at,
    )

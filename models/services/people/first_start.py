"""The set-up of an empty installation: by whoever can read what the program prints.

A code is printed at each start until the first person is there. Who gives it enters
the test organisation; from then on the browser that gave it goes on, and no other.
"""

from collections.abc import Callable, Collection
from dataclasses import dataclass
from datetime import datetime, timedelta
from hashlib import sha256
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import ConflictError, Fault, ForbiddenError, InputError
from models.schema import Authority, FirstStart, Organisation, Person
from models.services.keeping.log import append_log, take_turn
from models.services.people.passwords import hash_password, password_fits
from models.services.people.people import (
    add_organisation,
    add_person,
    ensure_authority,
)
from models.signing import seals

# Without what is taken for something else: 0 and O, 1 and I.
ALPHABET = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
CODE_LENGTH = 10
VALID = timedelta(hours=24)
TEST_FIRM = "test_firm"


class CodeRefusedError(InputError):
    """The code is not the one that was printed last, or no longer valid."""

    def __init__(self, message: str) -> None:
        super().__init__(Fault(field="code", message=message))


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUpState:
    """How far the set-up has come, for the browser that asks."""

    held: bool  # by this browser
    name: str = ""  # of the test organisation
    address: str = ""
    person_id: UUID | None = None  # the first administrator
    finished: bool = False


def has_people(session: Session) -> bool:
    """Return whether there is anybody: then the set-up is over for everybody else."""
    return session.scalars(select(Person.id).limit(1)).first() is not None


def renew_code(
    session: Session, *, code: str, row_id: UUID, now: datetime
) -> datetime | None:
    """Make *code* the one that begins the set-up; return until when it is valid.

    None where somebody is there already: then there is nothing to set up.
    """
    take_turn(session)
    if has_people(session):
        return None
    row = _row(session) or FirstStart(id=row_id)
    row.code_hash = hash_password(_plain(code))
    row.ends = now + VALID
    row.used_at = None
    session.add(row)
    session.flush()
    return row.ends


def set_up_state(session: Session, *, holder: str) -> SetUpState:
    """Return how far the set-up is; *holder* is what the browser got with the code."""
    row = _row(session)
    if row is None:
        return SetUpState(held=False)
    held = row.holder is not None and row.holder == _digest(holder)
    firm = session.get(Organisation, row.organisation_id) if held else None
    return SetUpState(
        held=held,
        name=firm.name if firm else "",
        address=firm.address if firm else "",
        person_id=row.person_id,
        finished=row.finished_at is not None,
    )


def begin_set_up(
    session: Session,
    *,
    code: str,
    holder: str,
    name: str,
    address: str,
    now: datetime,
    new_id: Callable[[], UUID],
) -> None:
    """Enter the test organisation; who holds the set-up already needs no code.

    Raises CodeRefusedError, InputError for a name that cannot be, and ConflictError
    where somebody else began with this code or the set-up is over.
    """
    take_turn(session)
    row = _open_row(session)
    if row.holder != _digest(holder) or code:
        _check_code(row, code, holder, now)
        row.used_at, row.holder = now, _digest(holder)
    _enter_organisation(session, row, name, address.strip(), new_id)
    _log(session, None, "enter test organisation", row, {"name": name}, now)


def add_first_administrator(
    session: Session,
    *,
    holder: str,
    name: str,
    sign_in: str,
    password: str,
    also: Collection[str],
    secret: str,
    now: datetime,
    new_id: Callable[[], UUID],
) -> UUID:
    """Make the authority and add the first person; return their id.

    *also*: the roles beside the administrator's. Raises InputError as `add_person`,
    ForbiddenError for a browser that does not hold the set-up, ConflictError where
    it is over.
    """
    take_turn(session)
    row = _open_row(session)
    if row.organisation_id is None or row.holder != _digest(holder):
        raise ForbiddenError(
            "The set-up goes on in another browser, or has not begun: give the code "
            "that the program printed at its last start."
        )
    authority = ensure_authority(session, secret=secret, authority_id=new_id(), now=now)
    person = add_person(
        session,
        person_id=new_id(),
        key_id=new_id(),
        organisation_id=row.organisation_id,
        name=name,
        sign_in=sign_in,
        roles={"administrator", *also},
        password=password,
        secret=secret,
        now=now,
        new_id=new_id,
    )
    row.person_id = person.id
    made = {"authority": seals.fingerprint(authority.certificate_pem)}
    _log(session, person.id, "make authority", row, made, now)
    return person.id


def authority_fingerprint(session: Session) -> str:
    """Return the fingerprint of the authority; '' where there is none yet."""
    row = session.scalars(select(Authority)).first()
    return seals.fingerprint(row.certificate_pem) if row else ""


def fingerprint_waits_for(session: Session, *, person_id: UUID) -> bool:
    """Return whether this person has still to say that it is written down."""
    row = _row(session)
    return row is not None and row.person_id == person_id and row.finished_at is None


def finish_set_up(session: Session, *, person_id: UUID, now: datetime) -> None:
    """Record that the first administrator wrote the fingerprint down."""
    row = _row(session)
    if row is None or row.person_id != person_id:
        raise ForbiddenError("This is for the first administrator.")
    if row.finished_at is None:
        row.finished_at = now
        _log(session, person_id, "write authority down", row, {}, now)


def _row(session: Session) -> FirstStart | None:
    return session.scalars(select(FirstStart)).first()


def _open_row(session: Session) -> FirstStart:
    if has_people(session):
        raise ConflictError("This installation is set up already: sign in.")
    row = _row(session)
    if row is None:
        raise CodeRefusedError("No code was printed yet: start the program again.")
    return row


def _check_code(row: FirstStart, code: str, holder: str, now: datetime) -> None:
    if not password_fits(row.code_hash, _plain(code)):
        raise CodeRefusedError("This is not the code that was printed last.")
    if row.ends <= now:
        raise CodeRefusedError(
            "This code was valid for 24 hours: start the program again for a new one."
        )
    if row.used_at is not None and row.holder != _digest(holder):
        raise ConflictError(
            "Somebody began the set-up with this code in another browser. Go on there; "
            "or stop the program and start it again: it prints a new code."
        )


def _enter_organisation(
    session: Session,
    row: FirstStart,
    name: str,
    address: str,
    new_id: Callable[[], UUID],
) -> None:
    """Add the organisation, or correct what was entered before."""
    former = row.organisation_id
    if former is not None:
        row.organisation_id = None
        session.flush()
        session.delete(session.get_one(Organisation, former))
        session.flush()
    row.organisation_id = add_organisation(
        session,
        organisation_id=new_id(),
        kind=TEST_FIRM,
        name=name.strip(),
        address=address,
    ).id


def _plain(code: str) -> str:
    """Return the code without what people put between its letters."""
    return "".join(one for one in code.upper() if one in ALPHABET)


def _digest(holder: str) -> str:
    return sha256(holder.encode()).hexdigest()


def _log(
    session: Session,
    actor_id: UUID | None,
    action: str,
    row: FirstStart,
    body: dict[str, str],
    now: datetime,
) -> None:
    append_log(
        session,
        actor_id=actor_id,
        action=action,
        subject=f"first start {row.id}",
        body=body,
        now=now,
    )

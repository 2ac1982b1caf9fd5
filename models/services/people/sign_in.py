"""Check a sign-in, and slow down guessing."""

from datetime import datetime, timedelta
from uuid import UUID

from sqlalchemy import delete, func, select
from sqlalchemy.orm import Session

from models.errors import Fault, InputError
from models.schema import Person, SignInAttempt
from models.services.keeping.texts import storable
from models.services.people.new_person import LONGEST_NAME
from models.services.people.passwords import password_fits
from models.services.people.people import PersonView, person_view

WINDOW = timedelta(minutes=10)
TRIES = 8  # failures within the window before a name has to wait

# Verified against when the name is unknown, so that the answer takes as long.
_NOBODY = (
    "$argon2id$v=19$m=65536,t=3,p=4$c29tZXNhbHRzb21lc2FsdA"
    "$FpXkBpl0SnP2n4gbbbB7mJbHkoGB1GJYZeHDi0b3RZI"
)


class SignInRefusedError(InputError):
    """The name and password do not belong together, or too many tries were made."""


def check_sign_in(
    session: Session, *, sign_in: str, password: str, now: datetime
) -> PersonView:
    """Return the person whose name and password these are.

    Raises SignInRefusedError; the caller records the failure with
    `record_failure` in a transaction of its own.
    """
    name = _asked_for(sign_in)
    if _failures(session, name, now) >= TRIES:
        raise SignInRefusedError(
            Fault(
                field="password",
                message="Too many tries for this name; wait ten minutes.",
            )
        )
    person = session.scalars(select(Person).where(Person.sign_in == name)).first()
    stored = person.password_hash if person else None
    fits = password_fits(stored or _NOBODY, password)
    if person is None or stored is None or not person.active or not fits:
        raise SignInRefusedError(
            Fault(
                field="password",
                message="This name and this password do not belong together.",
            )
        )
    return person_view(session, person_id=person.id)


def record_failure(
    session: Session, *, attempt_id: UUID, sign_in: str, now: datetime
) -> None:
    """Remember a failed try, and forget those outside the window."""
    session.execute(delete(SignInAttempt).where(SignInAttempt.at < now - WINDOW))
    session.add(SignInAttempt(id=attempt_id, sign_in=_asked_for(sign_in), at=now))
    session.flush()


def _asked_for(sign_in: str) -> str:
    """Return the name as it is stored; '' for one that nobody can have.

    A failed try is kept: nobody who is not signed in chooses how much of it.
    """
    name = sign_in.strip().lower()
    return name if storable(name) and len(name) <= LONGEST_NAME else ""


def _failures(session: Session, name: str, now: datetime) -> int:
    count = select(func.count()).where(
        SignInAttempt.sign_in == name, SignInAttempt.at >= now - WINDOW
    )
    return session.scalars(count).one()

"""Check a sign-in."""

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import Fault, InputError
from models.schema import Person
from models.services.keeping.texts import storable
from models.services.people.new_person import LONGEST_NAME
from models.services.people.passwords import password_fits
from models.services.people.people import PersonView, person_view

# Verified against when the name is unknown, so that the answer takes as long.
_NOBODY = (
    "$argon2id$v=19$m=65536,t=3,p=4$c29tZXNhbHRzb21lc2FsdA"
    "$FpXkBpl0SnP2n4gbbbB7mJbHkoGB1GJYZeHDi0b3RZI"
)


class SignInRefusedError(InputError):
    """The name and password do not belong together."""


def check_sign_in(session: Session, *, sign_in: str, password: str) -> PersonView:
    """Return the person whose name and password these are.

    Raises SignInRefusedError; the caller counts the try before it asks
    (`models.services.people.throttle`).
    """
    name = name_asked_for(sign_in)
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


def name_asked_for(sign_in: str) -> str:
    """Return the name as it is stored; '' for one that nobody can have."""
    name = sign_in.strip().lower()
    return name if storable(name) and len(name) <= LONGEST_NAME else ""

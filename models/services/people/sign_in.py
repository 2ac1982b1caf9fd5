"""Check a sign-in."""

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import Fault, InputError
from models.schema import Person
from models.services.keeping.texts import storable
from models.services.people.new_person import LONGEST_NAME, stored_sign_in
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
    person = _named(session, name_asked_for(sign_in), sign_in.strip().lower())
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


def _named(session: Session, name: str, spelled: str) -> Person | None:
    """Return whose name it is; names of before were stored as they were spelled."""
    asked = (name, spelled) if name else (name,)
    found = session.scalars(select(Person).where(Person.sign_in.in_(asked)))
    known = {person.sign_in: person for person in found}
    return known.get(spelled) or known.get(name)


def name_asked_for(sign_in: str) -> str:
    """Return the name as it is stored; '' for one that nobody can have."""
    name = stored_sign_in(sign_in)
    return name if storable(name) and len(name) <= LONGEST_NAME else ""

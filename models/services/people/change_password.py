"""Change a password: the hash and the key's wrapping move together."""

from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from models.errors import Fault, InputError, WrongPasswordError
from models.schema import Person
from models.services.keeping.log import append_log
from models.services.people.access import person_of
from models.services.people.passwords import check_password, hash_password
from models.signing import keys


def change_password(
    session: Session, *, person_id: UUID, old: str, new: str, now: datetime
) -> None:
    """Give the person a new password and end their other sessions.

    Raises InputError: *old* does not open the key, *new* may not be one.
    """
    person = person_of(session, person_id)
    check_password(new, (person.name, person.sign_in), field="new")
    person.key.wrapped_key = _rewrapped(person, old, new)
    person.password_hash = hash_password(new)
    person.session_epoch += 1
    append_log(
        session,
        actor_id=person_id,
        action="change password",
        subject=f"person {person_id}",
        body={},
        now=now,
    )


def _rewrapped(person: Person, old: str, new: str) -> str:
    try:
        return keys.rewrap_key(person.key.wrapped_key, old, new, str(person.id))
    except WrongPasswordError as error:
        message = "This is not your present password."
        raise InputError(Fault(field="old", message=message)) from error

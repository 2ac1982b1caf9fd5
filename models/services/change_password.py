"""Change a password: the hash and the key's wrapping move together."""

from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from models.services.access import person_of
from models.services.log import append_log
from models.services.passwords import hash_password
from models.signing import keys


def change_password(
    session: Session, *, person_id: UUID, old: str, new: str, now: datetime
) -> None:
    """Give the person a new password and end their other sessions.

    Raises WrongPasswordError when *old* does not open the key, InputError when
    *new* is too short.
    """
    person = person_of(session, person_id)
    person.key.wrapped_key = keys.rewrap_key(
        person.key.wrapped_key, old, new, str(person_id)
    )
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

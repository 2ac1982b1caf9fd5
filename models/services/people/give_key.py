"""Give a person a password and a key of their own; the key before it is revoked."""

from datetime import datetime
from uuid import UUID

from argon2 import PasswordHasher
from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import Authority, Person, SigningKey
from models.services.people.passwords import check_password, hash_password
from models.signing import authority as signing_authority
from models.signing import keys


def give_key(
    session: Session,
    person: Person,
    *,
    password: str,
    secret: str,
    key_id: UUID,
    now: datetime,
    hasher: PasswordHasher | None = None,
) -> SigningKey:
    """Store the password's hash and a new key that only this password opens.

    *secret* opens the installation's authority, which issues the certificate. A key
    that the person has is revoked from *now* on. Raises InputError for a password
    that may not be one, WrongPasswordError for another installation's *secret*.
    """
    check_password(password, (person.name, person.sign_in))
    row = session.scalars(select(Authority)).one()
    issued = keys.issue_key(
        signing_authority.open_authority(row.wrapped_key, row.certificate_pem, secret),
        person_id=str(person.id),
        name=person.name,
        organisation=person.organisation.name,
        password=password,
        now=now,
    )
    for one in person.keys:
        one.revoked_at = one.revoked_at or now
    session.flush()  # one key at a time is in use
    person.password_hash = hash_password(password, hasher)
    key = SigningKey(
        id=key_id,
        certificate_pem=issued.certificate_pem,
        wrapped_key=issued.wrapped,
        created_at=now,
        revoked_at=None,
    )
    person.keys.append(key)
    session.flush()
    return key

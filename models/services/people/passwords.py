"""Passwords: Argon2id hashes, and what a password must be."""

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

from models.errors import Fault, InputError

SHORTEST = 10  # characters; length is what counts, no rules of composition

FULL = PasswordHasher()  # the library's defaults follow RFC 9106
QUICK = PasswordHasher(time_cost=1, memory_cost=64, parallelism=1)  # tests only


def hash_password(password: str, hasher: PasswordHasher | None = None) -> str:
    """Return the Argon2id hash, at full cost unless *hasher* says otherwise.

    Raises InputError when the password is too short.
    """
    if len(password) < SHORTEST:
        raise InputError(
            Fault(
                field="password",
                message=f"Use at least {SHORTEST} characters; a sentence is fine.",
            )
        )
    return (hasher or FULL).hash(_bytes(password))


def password_fits(password_hash: str, password: str) -> bool:
    """Return whether *password* belongs to *password_hash*."""
    try:
        return FULL.verify(password_hash, _bytes(password))
    except (VerificationError, InvalidHashError):
        return False


def _bytes(password: str) -> bytes:
    return password.encode(
        "utf-8", "surrogatepass"
    )  # whatever was sent, it is compared

"""Passwords: Argon2id hashes, and what a new password must be.

Length counts, and that it is not among the first that anybody would try; there are no
rules of composition (NIST SP 800-63B, section on passwords; from memory).
"""

from collections.abc import Iterable
from importlib.resources import files
from itertools import pairwise

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

from models.errors import Fault, InputError

SHORTEST = 12  # characters
FEWEST = 5  # different ones
LEFT = 8  # characters that stay once the person's own words are taken out

# What the first tries of a guesser begin with; digits and signs around it do not help.
COMMON = frozenset(
    files("models.services.people")
    .joinpath("common_passwords.txt")
    .read_text("utf-8")
    .split()
)

FULL = PasswordHasher()  # the library's defaults follow RFC 9106
QUICK = PasswordHasher(time_cost=1, memory_cost=64, parallelism=1)  # tests only


def check_password(
    password: str, own_words: Iterable[str] = (), field: str = "password"
) -> None:
    """Raise InputError at *field* unless *password* may be a new one.

    *own_words*: the person's names and the like, of which it must not consist.
    """
    if why := why_not(password, own_words):
        raise InputError(Fault(field=field, message=why))


def why_not(password: str, own_words: Iterable[str] = ()) -> str:
    """Return what is wrong with a new password; '' for nothing."""
    if len(password) < SHORTEST:
        return (
            f"Use at least {SHORTEST} characters; a sentence is fine. "
            f"This has {len(password)}."
        )
    if len(set(password)) < FEWEST:
        return f"Use at least {FEWEST} different characters."
    plain = password.casefold()
    if _letters(plain) in COMMON or _is_run_of_digits(plain):
        return "This is among the first that a guesser tries: choose something else."
    for word in _words(own_words):
        plain = plain.replace(word, "")
    if len(plain) < LEFT:
        return "This is little more than your name: choose something else."
    return ""


def _letters(plain: str) -> str:
    return "".join(c for c in plain if c.isalpha())


def _is_run_of_digits(plain: str) -> bool:
    """Whether it is digits alone, each one more or one less than the one before."""
    if not plain.isdecimal():
        return False
    steps = {(int(b) - int(a)) % 10 for a, b in pairwise(plain)}
    return steps <= {1} or steps <= {9}


def _words(own: Iterable[str]) -> list[str]:
    """Return the words of at least three letters, the longest first."""
    found = {word for text in own for word in text.casefold().split()}
    found.add("witnessmark")
    return sorted((word for word in found if len(word) > 2), key=len, reverse=True)


def hash_password(password: str, hasher: PasswordHasher | None = None) -> str:
    """Return the Argon2id hash, at full cost unless *hasher* says otherwise."""
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

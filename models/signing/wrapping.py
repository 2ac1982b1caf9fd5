"""Wrap a private key so that only a password opens it."""

import json
import os
from base64 import b64decode, b64encode

from argon2.low_level import Type, hash_secret_raw
from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM

from models.errors import WrongPasswordError

# Argon2id at RFC 9106's second recommended setting: 64 MiB, 3 passes, 4 lanes.
MEMORY_KIB, PASSES, LANES = 64 * 1024, 3, 4
SALT_BYTES, NONCE_BYTES, KEY_BYTES = 16, 12, 32


def wrap(secret: bytes, password: str, bound_to: str) -> str:
    """Return *secret* under AES-256-GCM; the parameters travel with it.

    *bound_to* (a person's id) is authenticated: the wrapping cannot be moved to
    another person.
    """
    salt, nonce = os.urandom(SALT_BYTES), os.urandom(NONCE_BYTES)
    cost = {"memory_kib": MEMORY_KIB, "passes": PASSES, "lanes": LANES}
    key = _key(password, salt, cost)
    sealed = AESGCM(key).encrypt(nonce, secret, bound_to.encode())
    return json.dumps(
        {
            "v": 1,
            "kdf": "argon2id",
            **cost,
            "salt": b64encode(salt).decode(),
            "nonce": b64encode(nonce).decode(),
            "sealed": b64encode(sealed).decode(),
        }
    )


def unwrap(wrapped: str, password: str, bound_to: str) -> bytes:
    """Return the secret; WrongPasswordError when the password does not open it."""
    data = json.loads(wrapped)
    key = _key(password, b64decode(data["salt"]), data)
    try:
        return AESGCM(key).decrypt(
            b64decode(data["nonce"]), b64decode(data["sealed"]), bound_to.encode()
        )
    except InvalidTag as error:
        raise WrongPasswordError from error


def _key(password: str, salt: bytes, cost: dict[str, int]) -> bytes:
    # Not OpenSSL's Argon2: its lanes share one pool of threads, and two people who
    # open their keys at the same moment wait for each other for ever.
    return hash_secret_raw(
        password.encode("utf-8", "surrogatepass"),
        salt,
        time_cost=cost["passes"],
        memory_cost=cost["memory_kib"],
        parallelism=cost["lanes"],
        hash_len=KEY_BYTES,
        type=Type.ID,
    )

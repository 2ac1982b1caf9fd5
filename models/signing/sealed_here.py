"""Open what a tablet sealed: AES-256-GCM as WebCrypto writes it, the tag at the end."""

from base64 import urlsafe_b64decode
from collections.abc import Mapping
from typing import Any

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM


def open_sealed(key: bytes, sealed: Mapping[str, Any], bound_to: str) -> bytes | None:
    """Return what was sealed; None where key, *bound_to* or a single bit is another.

    *sealed*: {iv, data}, both base64url without padding.
    """
    try:
        iv, data = (_bytes(sealed[name]) for name in ("iv", "data"))
        return AESGCM(key).decrypt(iv, data, bound_to.encode())
    except (InvalidTag, KeyError, TypeError, ValueError, AttributeError):
        return None


def open_words(words: str) -> bytes | None:
    """Return the bytes of base64url without padding; None where it is none."""
    try:
        return _bytes(words)
    except ValueError:
        return None


def _bytes(words: str) -> bytes:
    return urlsafe_b64decode(words + "=" * (-len(words) % 4))

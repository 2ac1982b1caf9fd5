"""Canonical JSON (RFC 8785) and the hash that links one log entry to the next."""

import hashlib
import json
from typing import Any

_PLAIN = json.JSONEncoder(ensure_ascii=False)
LARGEST_INTEGER = 2**53  # beyond it JSON numbers are not exact (RFC 8785, 3.2.2.3)


def canonical(value: Any) -> bytes:
    """Return *value* as RFC 8785 bytes.

    Floats are refused with TypeError: measured values are kept as text, since
    any JSON number form loses the digits that were shown. Integers beyond 2^53
    raise ValueError.
    """
    return _write(value).encode("utf-8")


def _write(value: Any) -> str:
    if value is None or isinstance(value, bool | str):
        return _PLAIN.encode(value)
    if isinstance(value, int):
        if abs(value) > LARGEST_INTEGER:
            raise ValueError(f"{value} is beyond 2^53: write it as text")
        return str(value)
    if isinstance(value, list | tuple):
        return "[" + ",".join(_write(item) for item in value) + "]"
    if isinstance(value, dict):
        # Property names sort by UTF-16 code units (RFC 8785, 3.2.3).
        names = sorted(value, key=lambda name: name.encode("utf-16-be"))
        return "{" + ",".join(f"{_write(n)}:{_write(value[n])}" for n in names) + "}"
    raise TypeError(f"{type(value).__name__} has no canonical form here: {value!r}")


def link(previous: str, content: Any) -> str:
    """Return the hash of an entry that follows the one with hash *previous*."""
    whole = canonical({"previous": previous, "content": content})
    return hashlib.sha256(whole).hexdigest()

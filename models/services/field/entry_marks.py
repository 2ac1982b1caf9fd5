"""What a tablet adds to an entry for its way: a digest, and its clock's offset.

Neither is what somebody recorded: a version before sent entries without them, and the
same entry may come again with them.
"""

import hashlib
import math
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from models.errors import Fault, InputError
from models.signing import chain

DIGEST, OFFSET = "digest", "offset_ms"
WORTH_KEEPING_MS = 120_000  # a clock that is further off than this is said in the log
FARTHEST_MS = 100 * 365 * 24 * 3600 * 1000  # a clock that began anew in 1970 and more


def entry_digest(raw: Mapping[str, Any]) -> str:
    """Return the SHA-256, hexadecimal, over the entry's canonical JSON (RFC 8785).

    The member `digest` itself is left out. Numbers are written as a browser writes
    them: a condition is sent as a number.
    """
    own = {name: value for name, value in raw.items() if name != DIGEST}
    return hashlib.sha256(_canonical(own).encode("utf-8")).hexdigest()


def _canonical(value: Any) -> str:
    if isinstance(value, float):
        return _browser_number(value)
    if isinstance(value, list):
        return f"[{','.join(_canonical(item) for item in value)}]"
    if isinstance(value, Mapping):
        names = sorted(value, key=lambda name: name.encode("utf-16-be"))
        members = (f"{_canonical(name)}:{_canonical(value[name])}" for name in names)
        return f"{{{','.join(members)}}}"
    return chain.canonical(value).decode()


def _browser_number(value: float) -> str:
    """Return a number as ECMAScript writes it (ECMA-262, Number::toString)."""
    if not math.isfinite(value):
        raise ValueError(f"{value} is no JSON")
    shown = Decimal(repr(value)).normalize()
    digits = "".join(map(str, shown.as_tuple().digits))
    point = shown.adjusted() + 1  # places before the decimal point
    sign = "-" if value < 0 else ""
    if not value:
        return "0"
    if -6 < point <= 21:  # the bounds of the standard
        return f"{sign}{format(abs(shown), 'f')}"
    mantissa = f"{digits[0]}.{digits[1:]}".rstrip(".")
    return f"{sign}{mantissa}e{'+' if point > 0 else '-'}{abs(point - 1)}"


def without_marks(raw: Mapping[str, Any]) -> tuple[dict[str, Any], int]:
    """Return what was recorded, and by how many milliseconds the clock was off.

    The second is 0 where it is not worth keeping. Raises InputError where the entry is
    not what the tablet made the digest of.
    """
    if DIGEST in raw and raw[DIGEST] != _digest_or_none(raw):
        message = (
            "This entry was changed on its way: what arrived is not what the tablet "
            "recorded. Nothing of it is stored."
        )
        raise InputError(Fault(field=DIGEST, message=message))
    offset = raw.get(OFFSET, 0)
    if type(offset) is not int or abs(offset) > FARTHEST_MS:
        message = "Give a number of milliseconds, or leave it out."
        raise InputError(Fault(field=OFFSET, message=message))
    own = {name: raw[name] for name in raw if name not in (DIGEST, OFFSET)}
    return own, offset if abs(offset) > WORTH_KEEPING_MS else 0


def _digest_or_none(raw: Mapping[str, Any]) -> str | None:
    try:
        return entry_digest(raw)
    except (ValueError, TypeError, RecursionError):  # no JSON that has a digest
        return None

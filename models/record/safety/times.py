"""Moments of acts: whole milliseconds inside, RFC 3339 at the edges."""

from datetime import UTC, datetime
from functools import lru_cache

MINUTE = 60_000
HOUR = 60 * MINUTE
SECOND = 1_000


@lru_cache(maxsize=8192)  # an act is looked at several times
def milliseconds(text: str) -> int:
    """Return a moment given in RFC 3339 as milliseconds since 1970."""
    moment = datetime.fromisoformat(text)
    return int(moment.timestamp() * SECOND)


def moment_text(ms: int) -> str:
    """Return a moment as `2026-11-30T07:05:00.000Z`, the form that browsers write."""
    seconds, rest = divmod(ms, SECOND)
    moment = datetime.fromtimestamp(seconds, tz=UTC)
    return f"{moment:%Y-%m-%dT%H:%M:%S}.{rest:03d}Z"


def moment_or_none(ms: int | None) -> str | None:
    """Return a moment as text, or None where there is none."""
    return None if ms is None else moment_text(ms)

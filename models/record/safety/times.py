"""Moments of acts: whole milliseconds inside, RFC 3339 at the edges."""

import re
from datetime import UTC, datetime
from functools import lru_cache

# Without an offset a text is no moment.
MOMENT = re.compile(
    r"\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d(\.\d+)?)?(Z|[+-]\d\d:\d\d)", re.ASCII
)
MINUTE = 60_000
HOUR = 60 * MINUTE
SECOND = 1_000


@lru_cache(maxsize=8192)  # an act is looked at several times
def milliseconds(text: str) -> int:
    """Return a moment given in RFC 3339 as milliseconds since 1970."""
    moment = datetime.fromisoformat(text)
    return int(moment.timestamp() * SECOND)


def milliseconds_or_none(value: object) -> int | None:
    """Return a moment that somebody noted, None for what is no moment in RFC 3339."""
    if not isinstance(value, str) or MOMENT.fullmatch(value) is None:
        return None
    try:
        return milliseconds(value)
    except ValueError:
        return None


def moment_text(ms: int) -> str:
    """Return a moment as `2026-11-30T07:05:00.000Z`, the form that browsers write."""
    seconds, rest = divmod(ms, SECOND)
    moment = datetime.fromtimestamp(seconds, tz=UTC)
    return f"{moment:%Y-%m-%dT%H:%M:%S}.{rest:03d}Z"


def moment_or_none(ms: int | None) -> str | None:
    """Return a moment as text, or None where there is none."""
    return None if ms is None else moment_text(ms)

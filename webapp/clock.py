"""The clock and fresh identifiers, handed down from here to the services."""

from datetime import UTC, datetime
from uuid import UUID, uuid4


def now() -> datetime:
    """Return the present time, aware, in UTC."""
    return datetime.now(UTC)


def new_id() -> UUID:
    """Return a fresh identifier."""
    return uuid4()

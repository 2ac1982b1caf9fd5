"""Append to the log, and check its chain."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import select, text
from sqlalchemy.orm import Session

from models.schema import LogEntry
from models.signing import chain

FIRST = "0" * 64
_LOCK = 0x5749544E  # one advisory lock for the chain, on PostgreSQL


def texted(value: Any) -> Any:
    """Return *value* with every float as text, since RFC 8785 loses digits shown."""
    if isinstance(value, bool) or value is None:
        return value
    if isinstance(value, float):
        return repr(value)
    if isinstance(value, Mapping):
        return {str(key): texted(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [texted(item) for item in value]
    if isinstance(value, datetime):
        return stamp(value)
    return value if isinstance(value, int | str) else str(value)


def stamp(at: datetime) -> str:
    """Return *at* as RFC 3339 in UTC, to the microsecond where there is one."""
    return at.isoformat().replace("+00:00", "Z")


def take_turn(session: Session) -> None:
    """Wait until no other transaction is adding to the record.

    Who decides by what is there (no reading at this point yet, the card as it
    stands) asks for it first: between looking and writing nobody else writes.
    On PostgreSQL the chain's advisory lock is held to the end of the
    transaction; SQLite has one writer anyhow.
    """
    if session.get_bind().dialect.name == "postgresql":
        session.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": _LOCK})


def append_log(
    session: Session,
    *,
    actor_id: UUID | None,
    action: str,
    subject: str,
    body: Mapping[str, Any],
    now: datetime,
) -> LogEntry:
    """Add one link to the chain."""
    take_turn(session)
    last, previous = head(session)
    seq = last + 1
    said = texted(body)
    content = link_content(seq, now, actor_id, action, subject, said)
    entry = LogEntry(
        seq=seq,
        at=now,
        actor_id=actor_id,
        action=action,
        subject=subject,
        body=chain.canonical(said).decode(),
        previous=previous,
        hash=chain.link(previous, content),
    )
    session.add(entry)
    session.flush()
    return entry


def link_content(
    seq: int,
    at: datetime,
    actor_id: UUID | None,
    action: str,
    subject: str,
    body: Any,
) -> dict[str, Any]:
    """Return what an entry's hash is taken over."""
    return {
        "seq": seq,
        "at": stamp(at),
        "actor": str(actor_id) if actor_id else None,
        "action": action,
        "subject": subject,
        "body": body,
    }


def head(session: Session) -> tuple[int, str]:
    """Return the number and hash of the last entry."""
    last = session.execute(
        select(LogEntry.seq, LogEntry.hash).order_by(LogEntry.seq.desc()).limit(1)
    ).first()
    return (last.seq, last.hash) if last else (0, FIRST)


def next_seq(session: Session) -> int:
    """Return the number that the next entry gets, for who holds the turn."""
    return head(session)[0] + 1

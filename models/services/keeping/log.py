"""Append to the log, and check its chain."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any, NamedTuple
from uuid import UUID

from sqlalchemy import select, text
from sqlalchemy.orm import Session, SessionTransaction

from models.errors import InputError
from models.schema import LogEntry
from models.services.keeping.clock import in_order
from models.services.keeping.texts import text_faults
from models.signing import chain

FIRST = "0" * 64
HEAD = "head of the log"  # in Session.info
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
    transaction; SQLite has one writer anyhow. What the session read before its
    turn may have changed while it waited: it is read again.
    """
    if session.get_bind().dialect.name != "postgresql":
        return
    session.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": _LOCK})
    transaction = session.get_transaction()
    if session.info.get("turn") is not transaction:
        session.info["turn"] = transaction
        session.flush()
        session.expire_all()


def append_log(
    session: Session,
    *,
    actor_id: UUID | None,
    action: str,
    subject: str,
    body: Mapping[str, Any],
    now: datetime,
    flush: bool = True,
) -> LogEntry:
    """Add one link to the chain; ClockBehindError for a time before the last one's.

    Without *flush* it goes to the database with what comes next.
    """
    take_turn(session)
    last = _last(session)
    at = in_order(now, last.at) if last else now
    entry = _add_link(session, last, actor_id, action, subject, body, at)
    if flush:
        session.flush()
    return entry


def check_clock(session: Session, now: datetime) -> None:
    """Raise ClockBehindError if *now* is before the record's last entry."""
    if last := _last(session):
        in_order(now, last.at)


def put_clock_back(session: Session, *, reason: str, now: datetime) -> datetime | None:
    """Say in the log that the earlier clock ran ahead; what follows counts from *now*.

    Returns the time that the last entry gives. Raises InputError without a reason.
    """
    if faults := text_faults("reason", reason, "why the clock ran ahead"):
        raise InputError(*faults)
    take_turn(session)
    last = _last(session)
    ahead = last.at if last else None
    body = {"last": ahead, "reason": reason.strip()}
    _add_link(session, last, None, "put clock back", "clock", body, now)
    session.flush()
    return ahead


class _Link(NamedTuple):
    """What the next entry needs to know of the last one."""

    seq: int
    hash: str
    at: datetime


class _Head(NamedTuple):
    """The entry that a transaction added last."""

    transaction: SessionTransaction | None
    entry: LogEntry
    link: _Link


def _last(session: Session) -> _Link | None:
    """Return the last link; what this transaction added itself it need not ask for.

    An entry that was undone is no longer in the session.
    """
    head: _Head | None = session.info.get(HEAD)
    own = head is not None and head.transaction is session.get_transaction()
    if head and own and head.entry in session:
        return head.link
    row = session.execute(
        select(LogEntry.seq, LogEntry.hash, LogEntry.at)
        .order_by(LogEntry.seq.desc())
        .limit(1)
    ).first()
    return _Link(*row) if row else None


def _add_link(
    session: Session,
    last: _Link | None,
    actor_id: UUID | None,
    action: str,
    subject: str,
    body: Mapping[str, Any],
    at: datetime,
) -> LogEntry:
    seq, previous = (last.seq + 1, last.hash) if last else (1, FIRST)
    said = texted(body)
    content = link_content(seq, at, actor_id, action, subject, said)
    entry = LogEntry(
        seq=seq,
        at=at,
        actor_id=actor_id,
        action=action,
        subject=subject,
        body=chain.canonical(said).decode(),
        previous=previous,
        hash=chain.link(previous, content),
    )
    session.add(entry)
    link = _Link(entry.seq, entry.hash, entry.at)
    session.info[HEAD] = _Head(session.get_transaction(), entry, link)
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
    last = _last(session)
    return (last.seq, last.hash) if last else (0, FIRST)


def next_seq(session: Session) -> int:
    """Return the number that the next entry gets, for who holds the turn."""
    return head(session)[0] + 1

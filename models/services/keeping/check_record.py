"""Check the record: the chain of the log, and the database's own integrity."""

import json
from dataclasses import dataclass

from sqlalchemy import select, text
from sqlalchemy.orm import Session

from models.schema import LogEntry
from models.services.keeping.check_acts import acts_against_log
from models.services.keeping.check_confirmations import confirmations_against_log
from models.services.keeping.check_keys import keys_against_log
from models.services.keeping.check_readings import readings_against_log
from models.services.keeping.check_rejudgings import wrong_rejudgings
from models.services.keeping.check_rows import rows_against_log
from models.services.keeping.check_seals import broken_seals
from models.services.keeping.check_tablets import wrong_tablets
from models.services.keeping.check_verdicts import wrong_verdicts
from models.services.keeping.log import FIRST, link_content
from models.signing import chain


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """What was looked at, and every fault found."""

    entries: int
    head: str
    faults: list[str]


def check_record(session: Session) -> Check:
    """Walk the log, hold every row to it, and ask the database about itself.

    The chain shows that no entry was changed or taken out; that no entry is
    missing at its end follows from the rows and the packages, which name theirs.
    """
    faults: list[str] = []
    previous, count = FIRST, 0
    for entry in session.scalars(select(LogEntry).order_by(LogEntry.seq)):
        count += 1
        if entry.seq != count:
            faults.append(f"log entry {count} is missing: {entry.seq} follows")
            break
        if entry.previous != previous:
            faults.append(f"log entry {entry.seq} does not follow from the one before")
        if (why := _own_hash_fault(entry)) is not None:
            faults.append(f"log entry {entry.seq} {why}")
        previous = entry.hash
    faults.extend(readings_against_log(session))
    faults.extend(confirmations_against_log(session))
    faults.extend(acts_against_log(session))
    faults.extend(rows_against_log(session))
    faults.extend(keys_against_log(session))
    faults.extend(wrong_tablets(session))
    faults.extend(wrong_rejudgings(session))
    faults.extend(broken_seals(session))
    faults.extend(wrong_verdicts(session))
    faults.extend(_own_integrity(session))
    return Check(entries=count, head=previous, faults=list(dict.fromkeys(faults)))


def _own_hash_fault(entry: LogEntry) -> str | None:
    try:
        body = json.loads(entry.body)
        content = link_content(
            entry.seq, entry.at, entry.actor_id, entry.action, entry.subject, body
        )
        linked = chain.link(entry.previous, content)
    except (ValueError, TypeError):
        return "cannot be read"
    return None if linked == entry.hash else "is not what its hash was taken over"


def _own_integrity(session: Session) -> list[str]:
    if session.get_bind().dialect.name != "sqlite":
        return []
    answer = session.execute(text("PRAGMA integrity_check")).scalars().all()
    broken = session.execute(text("PRAGMA foreign_key_check")).all()
    faults = [f"database: {line}" for line in answer if line != "ok"]
    return faults + [f"database: row without its parent in {row[0]}" for row in broken]

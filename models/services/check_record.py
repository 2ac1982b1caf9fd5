"""Check the record: the chain of the log, and the database's own integrity."""

import json
from dataclasses import dataclass

from sqlalchemy import select, text
from sqlalchemy.orm import Session

from models.schema import LogEntry, Reading
from models.services.log import FIRST, link_content
from models.signing import chain


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """What was looked at, and every fault found."""

    entries: int
    head: str
    faults: list[str]


def check_record(session: Session) -> Check:
    """Walk the whole log and ask the database about itself."""
    faults: list[str] = []
    previous, count = FIRST, 0
    for entry in session.scalars(select(LogEntry).order_by(LogEntry.seq)):
        count += 1
        if entry.seq != count:
            faults.append(f"log entry {count} is missing: {entry.seq} follows")
            break
        if entry.previous != previous:
            faults.append(f"log entry {entry.seq} does not follow from the one before")
        content = link_content(
            entry.seq,
            entry.at,
            entry.actor_id,
            entry.action,
            entry.subject,
            json.loads(entry.body),
        )
        if chain.link(entry.previous, content) != entry.hash:
            faults.append(f"log entry {entry.seq} is not what its hash was taken over")
        previous = entry.hash
    faults.extend(_readings_against_log(session))
    faults.extend(_own_integrity(session))
    return Check(entries=count, head=previous, faults=faults)


def _readings_against_log(session: Session) -> list[str]:
    """Compare every reading with what the log says was recorded."""
    logged = {}
    for body in session.scalars(
        select(LogEntry.body).where(LogEntry.action == "reading")
    ):
        said = json.loads(body)
        logged[said["key"]] = said
    faults = []
    for reading in session.scalars(select(Reading)):
        said = logged.pop(str(reading.id), None)
        if said is None:
            faults.append(f"reading {reading.id} is not in the log")
        elif (said["text"], said["unit"]) != (reading.text, reading.unit):
            faults.append(f"reading {reading.id} differs from the log")
    faults.extend(f"reading {key} of the log is gone" for key in logged)
    return faults


def _own_integrity(session: Session) -> list[str]:
    if session.get_bind().dialect.name != "sqlite":
        return []
    answer = session.execute(text("PRAGMA integrity_check")).scalars().all()
    broken = session.execute(text("PRAGMA foreign_key_check")).all()
    faults = [f"database: {line}" for line in answer if line != "ok"]
    return faults + [f"database: row without its parent in {row[0]}" for row in broken]

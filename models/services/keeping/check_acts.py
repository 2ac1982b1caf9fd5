"""Hold acts of safety to the log, in which one entry says many of them."""

import json
from collections.abc import Iterator, Sequence

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import LogEntry, SafetyAct
from models.services.safety.act_rows import acts_digest
from models.services.safety.keep_acts import ACTION


def acts_against_log(session: Session) -> Iterator[str]:
    """Yield a fault for the acts of an entry that are not as the log has them.

    The acts of a site count on without a gap, so that what no entry says, and what is
    gone, is found too.
    """
    stored: dict[str, list[SafetyAct]] = {}
    asked = select(SafetyAct).order_by(SafetyAct.site_id, SafetyAct.seq)
    for row in session.scalars(asked):
        stored.setdefault(f"site {row.site_id}", []).append(row)
    said: dict[str, int] = {}  # the number up to which entries were read
    entries = select(LogEntry).where(LogEntry.action == ACTION).order_by(LogEntry.seq)
    for entry in session.scalars(entries):
        try:
            body = json.loads(entry.body)
            first, last = int(body["first"]), int(body["last"])
            rows = stored.get(entry.subject, [])[first - 1 : last]
            if not _fits(rows, first, last, body["digest"]):
                yield f"safety acts {first} to {last} differ from the log"
            said[entry.subject] = last
        except (ValueError, TypeError, KeyError, AttributeError):
            yield f"log entry {entry.seq} cannot be read"
    for subject, rows in stored.items():
        if len(rows) > said.get(subject, 0):
            yield f"safety acts of {subject} are not in the log"


def _fits(rows: Sequence[SafetyAct], first: int, last: int, digest: str) -> bool:
    numbers = [row.seq for row in rows]
    return numbers == [*range(first, last + 1)] and acts_digest(rows) == digest

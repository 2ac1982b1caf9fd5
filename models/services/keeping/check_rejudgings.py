"""Hold every act of judging again to the log: its words, and all that it added."""

import json
from collections.abc import Iterator

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import Judgement, LogEntry, Rejudging
from models.services.criteria.rejudge import digest_of_all, judgement_digest

FETCHED = 1000  # rows at a time


def wrong_rejudgings(session: Session) -> Iterator[str]:
    """Yield a fault for every act that is not, or did not add, what the log says."""
    logged = {}
    for entry in session.scalars(
        select(LogEntry).where(LogEntry.action == "judge again")
    ):
        try:
            body = json.loads(entry.body)
            logged[body["rejudging"]] = (entry.subject, body)
        except (ValueError, TypeError, KeyError):
            yield f"log entry {entry.seq} cannot be read"
    for row in session.scalars(select(Rejudging)):
        subject, body = logged.pop(str(row.id), (None, None))
        if body is None:
            yield f"judging again {row.id} is not in the log"
            continue
        said = [subject, *(body.get(n) for n in ("what", "reason", "counts", "digest"))]
        stored = [f"{row.scope} {row.subject_id}", row.what, row.reason, row.counts]
        if said != [*stored, row.digest]:
            yield f"judging again {row.id} differs from the log"
        if body.get("judgements") != _digest(session, row):
            yield f"the verdicts of judging again {row.id} differ from the log"
    for key in logged:
        yield f"judging again {key} of the log is gone"


def _digest(session: Session, row: Rejudging) -> str:
    names = ("reading_id", "seq", "verdict", "body", "rule", "after_turnover")
    statement = (
        select(*(getattr(Judgement, name) for name in names))
        .where(Judgement.rejudging_id == row.id)
        .execution_options(yield_per=FETCHED)
    )
    rows = session.execute(statement).mappings()
    return digest_of_all(judgement_digest({**one}) for one in rows)

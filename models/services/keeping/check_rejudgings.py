"""Hold every act of judging again to the log: its words, and all that it added."""

import hashlib
import json
from collections.abc import Iterator
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import Judgement, LogEntry, Rejudging, StoredRule
from models.schema.written import canonical
from models.services.criteria.rejudge import digest_of_all, judgement_digest
from models.services.field.judge_card import STORED

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
    names = ("reading_id", "seq", *STORED, "rule_digest", "after_turnover", "as_said")
    statement = (
        select(*(getattr(Judgement, name) for name in names), StoredRule.body)
        .outerjoin(Judgement.own_rule)
        .where(Judgement.rejudging_id == row.id)
        .execution_options(yield_per=FETCHED)
    )
    rows = (
        dict(zip((*names, "rule"), one, strict=True))
        for one in session.execute(statement)
    )
    return digest_of_all(map(_one_digest, rows))


def _one_digest(row: dict[str, Any]) -> str:
    """Return the digest of one judgement; before revision 0007 over all it said."""
    if row["as_said"] is None:
        return judgement_digest(row)
    said = [str(row["reading_id"]), row["seq"], row["verdict"], row["as_said"]]
    said += [row["rule"], row["after_turnover"]]
    differs = [name for name in STORED if row["as_said"].get(name) != row[name]]
    return "" if differs else hashlib.sha256(canonical(said).encode()).hexdigest()

"""Hold readings, their verdicts and the rules that they name to the log."""

import hashlib
import json
from collections import Counter
from collections.abc import Iterator
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload

from models.judging import Interval, parse_value
from models.schema import Judgement, LogEntry, Point, Reading, StoredRule
from models.services.field.judge_card import STORED
from models.services.keeping.check_rows import Body, Said, against_log, differences
from models.services.keeping.log import stamp, texted
from models.services.keeping.rules import rule_digest
from models.signing import chain


def readings_against_log(session: Session) -> Iterator[str]:
    """Yield a fault for each reading or verdict that is not as the log has it."""
    yield from _wrong_rules(session)
    rules = LoggedRules(session)
    rows = session.scalars(
        select(Reading).options(
            joinedload(Reading.point), joinedload(Reading.instrument)
        )
    )
    yield from against_log(
        session,
        "reading",
        ("reading",),
        lambda _, body: _reading_said(body, rules),
        map(_reading_stored, rows),
    )
    yield from _judgements_against_log(session, rules)


class LoggedRules:
    """The digest of the rule that an entry of the log means.

    Entries before revision 0007 hold the rule itself, its numbers as text.
    """

    def __init__(self, session: Session) -> None:
        self._known = {
            _text_digest(row.body): row.digest
            for row in session.scalars(select(StoredRule))
        }

    def __call__(self, said: Any) -> str | None:
        """Return the digest; None where no rule is named or none is like it."""
        if isinstance(said, dict):
            return self._known.get(_text_digest(said))
        return None if said is None else str(said)


def _text_digest(rule: Any) -> str:
    return hashlib.sha256(chain.canonical(texted(rule))).hexdigest()


def _wrong_rules(session: Session) -> Iterator[str]:
    """Yield a fault for each rule that is not its digest's, or is named and missing."""
    for row in session.scalars(select(StoredRule)):
        if rule_digest(row.body) != row.digest:
            yield f"rule {row.digest} is not what its digest was taken over"
    for table in (Point, Reading, Judgement):
        gone = table.rule_digest.not_in(select(StoredRule.digest))
        for key, digest in session.execute(
            select(table.id, table.rule_digest).where(gone)
        ):
            name = table.__tablename__
            yield f"{name} {key} names the rule {digest}, which is not there"


def _judgements_against_log(session: Session, rules: LoggedRules) -> Iterator[str]:
    """Compare every verdict, also those that hold no more, with the entries' own."""
    said: Counter[bytes] = Counter()
    for entry in session.scalars(select(LogEntry).where(LogEntry.action == "reading")):
        try:
            body = json.loads(entry.body)
            own = {"reading": body["key"], "judgement": body["judgement"]}
            for one in (own, *body["moved"]):
                what = [*_numbers(one), rules(one.get("rule")), entry.seq]
                said[chain.canonical(texted([one["reading"], *what]))] += 1
        except (ValueError, TypeError, KeyError):
            yield f"log entry {entry.seq} cannot be read"
    stored = Counter(
        chain.canonical(
            texted([row.reading_id, *row.numbers, row.rule_digest, row.log_seq])
        )
        for row in session.scalars(
            select(Judgement).where(Judgement.rejudging_id.is_(None))
        )
    )
    yield from differences("a verdict of reading", said, stored)


def _numbers(one: Body) -> Said:
    """Return verdict and numbers as an entry has them, numbers as numbers again."""
    verdict, *numbers = (one["judgement"][name] for name in STORED)
    return [verdict, *(None if n is None else float(n) for n in numbers)]


def _reading_said(body: Body, rules: LoggedRules) -> Said:
    names = ("key", "device", "point", "text", "unit", "conditions", "instrument")
    rest = ("calibration", "accuracy", "taken_at", "supersedes", "reason")
    return [
        *(body[name] for name in names),
        *_bounds(body["text"]),
        *(body[name] for name in rest),
        rules(body["rule"]),
    ]


def _bounds(text: str) -> Said:
    value = parse_value(text)
    if isinstance(value, Interval):
        return [value.low, value.high, None]
    return [None, None, str(value)]


def _reading_stored(row: Reading) -> Said:
    return [
        *(row.id, row.device, row.point.label, row.text, row.unit, row.conditions),
        row.read_with,
        *(row.low, row.high, row.outcome),
        *(row.calibration_id, row.accuracy),
        *(stamp(row.taken_at), row.supersedes_id, row.reason, row.rule_digest),
    ]

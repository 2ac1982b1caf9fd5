"""Judge again by the criteria in force: an act of its own, confirmed on a preview."""

import hashlib
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import insert, update
from sqlalchemy.orm import Session

from models.errors import ConflictError, CriteriaError, InputError
from models.schema import Judgement, Point, Rejudging
from models.schema.written import canonical
from models.services.criteria.rejudge_bodies import Bodies
from models.services.criteria.rejudge_findings import (
    Findings,
    Touched,
    findings,
)
from models.services.field.judge_card import STORED, stored_part
from models.services.keeping.log import append_log, next_seq, take_turn
from models.services.keeping.rules import keep_rules
from models.services.keeping.texts import text_faults
from models.services.people.access import person_of, require

TABLE = Judgement.metadata.tables[Judgement.__tablename__]
AT_ONCE = 1000  # rows in one statement


class StalePreviewError(ConflictError):
    """What was confirmed is not what would be stored now."""

    def __init__(self) -> None:
        super().__init__(
            "Something changed since this was shown: look at it again, and confirm "
            "what it shows now."
        )


def rejudge(
    session: Session,
    *,
    person_id: UUID,
    kind: str,
    subject_id: UUID,
    digest: str,
    reason: str,
    now: datetime,
    new_id: Callable[[], UUID],
    report: Callable[[int, int], None] | None = None,
) -> UUID:
    """Add the verdicts that the preview with this *digest* showed.

    Every reading whose rule is another today gets a judgement by it, whether or
    not its verdict moves; points of open rounds get the rule for later readings.
    Earlier judgements, packages and signatures stay as they are. *report* is told
    how many of how many readings are done.
    Raises StalePreviewError where anything changed since the preview, InputError
    without a reason, ConflictError where there is nothing to judge again.
    """
    take_turn(session)
    person = person_of(session, person_id)
    require(person, "judge again")
    if faults := text_faults("reason", reason, "why these readings are judged again"):
        raise InputError(*faults)
    found = findings(session, person, kind, subject_id)
    if found.digest != digest:
        raise StalePreviewError
    if not found.touched and not found.points:
        raise ConflictError("Every verdict is by the criteria in force already.")
    row = Rejudging(
        id=new_id(),
        scope=kind,
        subject_id=subject_id,
        what=found.what,
        reason=reason.strip(),
        counts=found.counts,
        digest=digest,
        by_id=person.id,
        at=now,
    )
    session.add(row)
    session.flush()
    stored = _store(session, found, row, new_id, report or (lambda *_: None))
    _renew_points(session, found)
    session.expire_all()  # what was loaded before knows nothing of the new rows
    _log(session, row, found, stored)
    return row.id


def _store(
    session: Session,
    found: Findings,
    row: Rejudging,
    new_id: Callable[[], UUID],
    report: Callable[[int, int], None],
) -> list[str]:
    """Add the judgements; return the digest of each."""
    digests: list[str] = []
    keep_rules(session, found.rules)
    log_seq = next_seq(session)
    for part in _parts(_judgements(found, row, log_seq, new_id)):
        # The table, not the class: a row without a corrected value would otherwise
        # be a statement of its own.
        session.execute(insert(TABLE), part)
        digests += map(judgement_digest, part)
        report(len(digests), len(found.touched))
    return digests


def _judgements(
    found: Findings, row: Rejudging, log_seq: int, new_id: Callable[[], UUID]
) -> Iterator[dict[str, Any]]:
    states = {r.id: r.state for r in found.scope.rounds}
    after = {key: states[c.round_id] != "open" for key, c in found.cards.items()}
    say = Bodies()
    for group in _groups(found.touched):
        for one, body in zip(group, say(group), strict=True):
            if body["verdict"] != one.verdict:
                raise CriteriaError(
                    f"reading {one.reading.id} is {body['verdict']} by itself and "
                    f"{one.verdict} in columns"
                )
            yield {
                "id": new_id(),
                "reading_id": one.reading.id,
                "seq": one.reading.seq + 1,
                "at": row.at,
                "log_seq": log_seq,
                **stored_part(body),
                "rejudging_id": row.id,
                "rule_digest": one.to.digest,
                "after_turnover": after[one.reading.card_id],
            }


def _groups(touched: Iterable[Touched]) -> Iterable[list[Touched]]:
    groups: dict[tuple[UUID, str], list[Touched]] = {}
    for one in touched:
        groups.setdefault((one.reading.card_id, one.reading.group), []).append(one)
    return groups.values()


def _parts(rows: Iterator[dict[str, Any]]) -> Iterator[list[dict[str, Any]]]:
    part: list[dict[str, Any]] = []
    for row in rows:
        part.append(row)
        if len(part) == AT_ONCE:
            yield part
            part = []
    if part:
        yield part


def _renew_points(session: Session, found: Findings) -> None:
    by_rule: dict[str, list[UUID]] = {}
    for point, rule in found.points:
        by_rule.setdefault(rule.digest, []).append(point.id)
    for digest, ids in by_rule.items():
        for at in range(0, len(ids), AT_ONCE):
            wanted = Point.id.in_(ids[at : at + AT_ONCE])
            session.execute(
                update(Point).where(wanted).values(rule_digest=digest),
                execution_options={"synchronize_session": False},
            )


def judgement_digest(row: Mapping[str, Any]) -> str:
    """Return the SHA-256 over what a judgement says, and of which reading."""
    said = [str(row["reading_id"]), row["seq"], *(row[name] for name in STORED)]
    said += [row["rule_digest"], row["after_turnover"]]
    return hashlib.sha256(canonical(said).encode()).hexdigest()


def digest_of_all(digests: Iterable[str]) -> str:
    """Return one digest over those of the judgements, in whatever order."""
    return hashlib.sha256("".join(sorted(digests)).encode()).hexdigest()


def _log(session: Session, row: Rejudging, found: Findings, stored: list[str]) -> None:
    """Log the act, each verdict that moved, and one digest over all judgements."""
    append_log(
        session,
        actor_id=row.by_id,
        action="judge again",
        subject=f"{row.scope} {row.subject_id}",
        body={
            "rejudging": str(row.id),
            "what": row.what,
            "reason": row.reason,
            "counts": row.counts,
            "digest": row.digest,
            "moved": [
                [str(one.reading.id), one.reading.verdict, one.verdict]
                for one in found.touched
                if one.moves
            ],
            "judgements": digest_of_all(stored),
        },
        now=row.at,
    )

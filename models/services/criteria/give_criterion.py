"""Enter what a project or a maker asks for; put a new version in its place; withdraw.

Nothing is changed: each act adds a version, with who, when and why.
"""

from dataclasses import asdict
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from models.schema import GivenCriterion
from models.services.criteria.criterion_draft import (
    Scope,
    Wording,
    draft_change,
    draft_criterion,
    draft_withdrawal,
    wording_of,
)
from models.services.keeping.log import append_log, take_turn


def give_criterion(
    session: Session,
    *,
    person_id: UUID,
    lineup_id: UUID,
    criterion_id: UUID,
    scope: Scope,
    quantity: str,
    standing: str,
    wording: Wording,
    now: datetime,
) -> None:
    """Enter a criterion; rules that are compiled from now on take it in.

    Raises InputError with everything that cannot be: a figure, a unit that does
    not fit, a scope on which nothing is tested so, a criterion that is there
    already; no document, no reason.
    """
    take_turn(session)
    first = draft_criterion(
        session,
        person_id=person_id,
        lineup_id=lineup_id,
        criterion_id=criterion_id,
        scope=scope,
        quantity=quantity,
        standing=standing,
        wording=wording,
        now=now,
    )
    _add(session, first, "give criterion")


def change_criterion(
    session: Session,
    *,
    person_id: UUID,
    criterion_id: UUID,
    version_id: UUID,
    seen: int,
    wording: Wording,
    now: datetime,
) -> None:
    """Put a new version in the place of version *seen*, which must be the last.

    Raises InputError as `give_criterion`, and where nothing is different;
    ConflictError when the criterion has moved on or is withdrawn.
    """
    take_turn(session)
    later = draft_change(
        session,
        person_id=person_id,
        criterion_id=criterion_id,
        version_id=version_id,
        seen=seen,
        wording=wording,
        now=now,
    )
    _add(session, later, "change criterion")


def withdraw_criterion(
    session: Session,
    *,
    person_id: UUID,
    criterion_id: UUID,
    version_id: UUID,
    seen: int,
    document: str,
    reason: str,
    now: datetime,
) -> None:
    """Let a criterion hold no more; what it decided stays as it is.

    *document* is where it is withdrawn. Raises InputError without document or
    reason; ConflictError when version *seen* is not the last or is withdrawn.
    """
    take_turn(session)
    gone = draft_withdrawal(
        session,
        person_id=person_id,
        criterion_id=criterion_id,
        version_id=version_id,
        seen=seen,
        document=document,
        reason=reason,
        now=now,
    )
    _add(session, gone, "withdraw criterion")


def _add(session: Session, row: GivenCriterion, action: str) -> None:
    session.add(row)
    session.flush()
    append_log(
        session,
        actor_id=row.by_id,
        action=action,
        subject=f"criterion {row.criterion_id}",
        body=logged(row),
        now=row.at,
    )


def logged(row: GivenCriterion) -> dict[str, object]:
    """Return what the log says of a version: all but who and when."""
    return {
        "key": str(row.id),
        "version": row.version,
        "supersedes": str(row.supersedes_id) if row.supersedes_id else None,
        "lineup": str(row.lineup_id),
        "kind": row.apparatus_kind,
        "apparatus": str(row.apparatus_id) if row.apparatus_id else None,
        "quantity": row.quantity,
        "standing": row.standing,
        **asdict(wording_of(row)),
        "withdrawn": row.withdrawn,
    }

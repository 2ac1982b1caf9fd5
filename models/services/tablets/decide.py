"""What a lead decides about a tablet: revoke, admit, release a round from waiting."""

from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import ConflictError, InputError, NotFoundError
from models.schema import Person, Tablet, TabletAct
from models.services.keeping.log import append_log, take_turn
from models.services.keeping.texts import text_faults
from models.services.people.access import person_of, require, require_open, round_of
from models.services.tablets.listed import tablets_seen_by
from models.services.tablets.revoked import revocation
from models.services.tablets.waited_for import waited_for

WHY = {
    "revoke": "why the tablet is revoked",
    "admit": "why the tablet is admitted again",
    "release": "why nobody waits for this tablet",
}


def revoke_or_admit(
    session: Session,
    *,
    person_id: UUID,
    tablet_id: UUID,
    act: str,
    reason: str,
    act_id: UUID,
    now: datetime,
) -> None:
    """Close the program to a tablet, or open it again; what it holds stays on it.

    Raises InputError without a reason, ConflictError where it stands so already.
    """
    person, tablet = _deciding(session, person_id, tablet_id)
    _reasoned(act, reason)
    if (revocation(tablet.acts) is not None) == (act == "revoke"):
        state = "revoked" if act == "revoke" else "admitted"
        raise ConflictError(f"{tablet.label} is {state} already.")
    _add(session, person, tablet, None, act, reason, act_id, now)


def release_round(
    session: Session,
    *,
    person_id: UUID,
    tablet_id: UUID,
    round_id: UUID,
    reason: str,
    act_id: UUID,
    now: datetime,
) -> None:
    """Let the round's turnover not wait for the tablet; the package says it.

    Raises InputError without a reason, ConflictError where nobody waits for it.
    """
    person, tablet = _deciding(session, person_id, tablet_id)
    round_ = round_of(session, person, round_id)
    require_open(round_)
    _reasoned("release", reason)
    if not any(one.tablet_id == tablet.id for one in waited_for(session, round_id)):
        raise ConflictError(f"{round_.title} does not wait for {tablet.label}.")
    _add(session, person, tablet, round_id, "release", reason, act_id, now)


def _deciding(
    session: Session, person_id: UUID, tablet_id: UUID
) -> tuple[Person, Tablet]:
    take_turn(session)
    person = person_of(session, person_id)
    require(person, "lead")
    tablet = session.scalars(
        select(Tablet).where(
            Tablet.id == tablet_id, Tablet.id.in_(tablets_seen_by(person))
        )
    ).first()
    if tablet is None:
        raise NotFoundError("tablet", tablet_id)
    return person, tablet


def _reasoned(act: str, reason: str) -> None:
    if faults := text_faults("reason", reason, WHY[act]):
        raise InputError(*faults)


def _add(
    session: Session,
    person: Person,
    tablet: Tablet,
    round_id: UUID | None,
    act: str,
    reason: str,
    act_id: UUID,
    now: datetime,
) -> None:
    row = TabletAct(
        id=act_id,
        tablet_id=tablet.id,
        round_id=round_id,
        act=act,
        reason=reason.strip(),
        by_id=person.id,
        at=now,
    )
    session.add(row)
    session.flush()
    session.expire(tablet, ["acts"])
    body: dict[str, Any] = {"key": str(act_id), "reason": row.reason}
    body |= {"label": tablet.label, "round": str(round_id) if round_id else None}
    append_log(
        session,
        actor_id=person.id,
        action=f"{act} tablet",
        subject=f"tablet {tablet.id}",
        body=body,
        now=now,
    )

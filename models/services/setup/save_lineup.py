"""Save a lineup from its draft: a new one, or the change of one; all or nothing."""

from collections.abc import Callable, Iterator
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import ConflictError, Fault, InputError
from models.record.lineup_draft import LineupDraft, draft_json
from models.record.read_lineup_draft import draft_faults
from models.schema import Lineup, Round, Site
from models.services.keeping.log import append_log, take_turn
from models.services.keeping.texts import text_faults
from models.services.people.access import lineup_of, person_of, require, site_of
from models.services.setup.draft_changes import draft_changes
from models.services.setup.lineup_checks import (
    CardsOn,
    cell_faults,
    has_readings,
    reason_faults,
    removal_faults,
    thing_faults,
)
from models.services.setup.stored_draft import stored_cells, stored_draft
from models.services.setup.write_lineup import Writing


def save_lineup(
    session: Session,
    *,
    person_id: UUID,
    site_id: UUID,
    lineup_id: UUID | None,
    draft: LineupDraft,
    reason: str = "",
    seen_version: int | None = None,
    now: datetime,
    new_id: Callable[[], UUID],
) -> UUID:
    """Save the draft and return the lineup's id; without *lineup_id* it is a new one.

    A cell or an apparatus whose id is not known is new, and keeps that id; what is no
    longer in the draft is removed. Each nameplate that changed is one version more,
    which nobody has confirmed yet.
    Raises InputError with every fault by its place: what was tested cannot be removed,
    moved or made into something else here, and its nameplate changes with a reason
    only. Raises ConflictError when somebody else saved the lineup since
    *seen_version*.
    """
    take_turn(session)
    person = person_of(session, person_id)
    require(person, "set up")
    site = site_of(session, person, site_id)
    lineup = lineup_of(session, person, lineup_id) if lineup_id else None
    if lineup is not None and seen_version not in (None, lineup.saved):
        raise ConflictError(
            f"Somebody else saved {lineup.name} since you opened it. Nothing of yours "
            "was saved: open it again, and enter your changes there."
        )
    before = stored_draft(session, lineup) if lineup else None
    faults = list(_faults(session, site, lineup, draft, reason))
    if faults:
        raise InputError(*faults)
    changes: dict[str, Any] = draft_changes(before, draft) if before else {}
    if lineup is not None and not changes:
        return lineup.id
    writing = Writing(session, by=person, reason=reason.strip(), now=now, new_id=new_id)
    saved = writing.write(site, lineup, draft)
    append_log(
        session,
        actor_id=person.id,
        action="change lineup" if before else "add lineup",
        subject=f"lineup {saved.id}",
        body={"site": str(site.id), "reason": reason.strip()}
        | ({"changes": changes} if before else {"lineup": draft_json(draft)}),
        now=now,
    )
    return saved.id


def _faults(
    session: Session,
    site: Site,
    lineup: Lineup | None,
    draft: LineupDraft,
    reason: str,
) -> Iterator[Fault]:
    yield from draft_faults(draft)
    same_name = select(Lineup).where(
        Lineup.site_id == site.id,
        Lineup.name == draft.name,
        Lineup.id != (lineup.id if lineup else None),
    )
    if session.scalars(same_name).first() is not None:
        message = f"{site.name} has a lineup {draft.name} already."
        yield Fault(field="name", message=message)
    tested = CardsOn(session, stored_cells(session, lineup.id) if lineup else ())
    yield from cell_faults(session, draft, tested)
    yield from thing_faults(session, site, draft, tested)
    if lineup is None:
        return
    yield from removal_faults(draft, tested)
    rounds = select(Round).where(Round.lineup_id == lineup.id)
    if draft.gear != lineup.gear and session.scalars(rounds).first() is not None:
        message = "The lineup has rounds: the kind of gear stays."
        yield Fault(field="gear", message=message)
    if not reason.strip():
        read = has_readings(session, lineup)
        yield from reason_faults(lineup, draft, tested, read=read)
    else:
        yield from text_faults("reason", reason, "why the nameplate changes")

"""Close a deficiency from the desk: one that no card of the field needs open for."""

from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from models.errors import ConflictError, InputError, NotFoundError
from models.schema import Deficiency, DeficiencyClosing
from models.services.field.card_facts import gather
from models.services.field.entry_kinds import check_retest
from models.services.keeping.log import append_log, take_turn
from models.services.keeping.texts import text_faults
from models.services.people.access import person_of, require, require_open, round_of


def close_deficiency(
    session: Session,
    *,
    person_id: UUID,
    deficiency_id: UUID,
    closing_id: UUID,
    reading_id: UUID | None,
    text: str,
    now: datetime,
) -> None:
    """Record how a deficiency was put right, and the retest that shows it.

    Raises InputError (no text, a retest that does not fit) and ConflictError.
    """
    take_turn(session)
    person = person_of(session, person_id)
    require(person, "record")
    deficiency = session.get(Deficiency, deficiency_id, populate_existing=True)
    if deficiency is None:
        raise NotFoundError("deficiency", deficiency_id)
    round_ = round_of(session, person, deficiency.round_id)
    require_open(round_)
    if deficiency.closing is not None:
        raise ConflictError(f"D-{deficiency.number:03d} is closed already.")
    if faults := text_faults("text", text, "how it was put right"):
        raise InputError(*faults)
    facts = gather(session, [deficiency.card])[deficiency.card_id]
    check_retest(facts, deficiency, reading_id)
    session.add(
        DeficiencyClosing(
            id=closing_id,
            deficiency_id=deficiency.id,
            reading_id=reading_id,
            text=text.strip(),
            by_id=person.id,
            at=now,
            arrived_at=now,
        )
    )
    session.flush()
    append_log(
        session,
        actor_id=person.id,
        action="close deficiency",
        subject=f"deficiency {deficiency.id}",
        body={"text": text.strip(), "reading": str(reading_id) if reading_id else None},
        now=now,
    )

"""Take in what a tablet carried off: stored as its author's, brought by a lead."""

from collections.abc import Callable
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from models.services.field.accept_entries import accept_brought
from models.services.people.access import person_of
from models.services.tablets.unsent_file import open_unsent, said_of

TAKEN = ("stored", "known")


def take_in(
    session: Session,
    *,
    person_id: UUID,
    data: bytes,
    now: datetime,
    new_id: Callable[[], UUID] = uuid4,
) -> list[dict[str, Any]]:
    """Store the file's entries by the checks of any entry; return the answers.

    Whether the author may still sign in, or the tablet still call, does not matter; the
    log says who brought them. The same file once more does no harm. Raises InputError
    as `open_unsent`.
    """
    file = open_unsent(session, person_id=person_id, data=data)
    said = said_of(file, person_id, file.revoked.at if file.revoked else None)
    answers: list[dict[str, Any]] = []
    for one in file.rounds:
        answers += accept_brought(
            session,
            author=file.author,
            bringer=person_of(session, person_id),
            round_id=one.round.id,
            device=file.device,
            entries=one.entries,
            said=said,
            now=now,
            new_id=new_id,
        )
    return answers

"""Take in what a tablet carried off: stored as its author's, brought by a lead."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from models.files.receive import Limits
from models.services.field.accept_entries import accept_brought
from models.services.people.access import person_of
from models.services.tablets.bring_photos import (
    Brought,
    PhotoAnswer,
    Pictures,
    attach_brought,
)
from models.services.tablets.unsent_file import open_unsent, said_of

TAKEN = ("stored", "known")


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenIn:
    """What became of each entry and of each photograph of a file."""

    entries: list[dict[str, Any]]
    photos: list[PhotoAnswer]


def take_in(
    session: Session,
    *,
    person_id: UUID,
    data: bytes,
    pictures: Pictures,
    limits: Limits,
    now: datetime,
    new_id: Callable[[], UUID] = uuid4,
) -> TakenIn:
    """Store the file's entries by the checks of any entry; return the answers.

    Its photographs follow, each whole or not at all; *pictures* as `receive_pictures`
    gave them. Whether the author may still sign in, or the tablet still call, does not
    matter; the log says who brought them. The same file once more does no harm. Raises
    InputError as `open_unsent`.
    """
    file = open_unsent(session, person_id=person_id, data=data, limits=limits, now=now)
    said = said_of(file, person_id, file.revoked.at if file.revoked else None)
    brought = Brought(
        bringer_id=person_id,
        author_id=file.author.id,
        said=said,
        limits=limits,
        now=now,
    )
    taken = TakenIn(entries=[], photos=[])
    for one in file.rounds:
        taken.entries.extend(
            accept_brought(
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
        )
        taken.photos.extend(
            attach_brought(
                session, photo, pictures, round_id=one.round.id, brought=brought
            )
            for photo in one.photos
        )
    return taken

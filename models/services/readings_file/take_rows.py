"""Rows of a file on a card: tried by the way of a tablet's entries, all or nothing.

Trying and recording are the same act; who only tries does not commit.
"""

from collections.abc import Sequence
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from models.record.readings_table import ReadRow
from models.services.field.accept_entries import accept_entries
from models.services.field.card_with_files import card_to_record_on
from models.services.readings_file.taking import FileOf, Taking, TriedRow


def take_rows(
    session: Session,
    *,
    person_id: UUID,
    card_id: UUID,
    file: FileOf,
    rows: Sequence[ReadRow],
    now: datetime,
) -> list[TriedRow]:
    """Add the rows as readings to *session*; the caller commits if none is wrong.

    A row that was recorded before from this file is known and adds nothing. Raises
    what `accept_entries` raises for the whole call.
    """
    facts = card_to_record_on(session, person_id, card_id)
    taking = Taking(session, facts, file, now)
    entries = {id(row): taking.entry(row) for row in rows}
    sent = [entry for entry in entries.values() if entry]
    answers = accept_entries(
        session,
        person_id=person_id,
        round_id=facts.card.round_id,
        device=file.device,
        entries=[*sent, *taking.notes()],
        now=now,
    )
    by_key = {answer["key"]: answer for answer in answers}
    after = card_to_record_on(session, person_id, card_id)
    tried = []
    for row in rows:
        entry = entries[id(row)]
        answer = by_key.get(entry["key"]) if entry else None
        tried.append(taking.tried(row, answer, after))
    return tried

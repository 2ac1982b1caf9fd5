"""Rows of a file for several cards of a round: all are recorded, or none.

As `take_rows` does for one card, and by the same entries: trying is recording without
a commit.
"""

from collections.abc import Sequence
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.record.readings_table import Columns, ReadRow
from models.schema import Card
from models.services.field.accept_entries import accept_entries
from models.services.field.card_facts import CardFacts, gather, round_cards
from models.services.people.access import person_of, require, round_of
from models.services.readings_file.taking import (
    FileOf,
    Taking,
    TriedRow,
    second_headings,
)
from models.services.readings_file.whose_card import Cards


def take_round_rows(
    session: Session,
    *,
    person_id: UUID,
    round_id: UUID,
    columns: Columns,
    file: FileOf,
    rows: Sequence[ReadRow],
    now: datetime,
) -> list[TriedRow]:
    """Add the rows as readings of the cards they name; the order is that of *rows*.

    The caller commits if none is wrong. Raises NotFoundError, ForbiddenError,
    InputError where no column says whose card a row is for, and what
    `accept_entries` raises for the whole call.
    """
    person = person_of(session, person_id)
    require(person, "record")
    every = round_cards(session, round_of(session, person, round_id).id)
    cards = [card for card in every if card.procedure == columns.test]
    facts = gather(session, cards)
    whose = Cards(every, list(facts.values()), columns)
    takings: dict[UUID, Taking] = {}
    of: dict[int, Taking] = {}
    entries: dict[int, dict[str, Any] | None] = {}
    for row in rows:
        card = whose.of(row)
        if card is None:
            continue
        taking = takings.setdefault(card.card.id, Taking(session, card, file, now))
        of[row.row], entries[row.row] = taking, taking.entry(row)
    answers = _accepted(session, person_id, round_id, file, takings, entries, now)
    after = _after(session, cards, takings)
    return [
        of[row.row].tried(row, answers.get(row.row), after[of[row.row].facts.card.id])
        if row.row in of
        else _nowhere(row)
        for row in rows
    ]


def _accepted(
    session: Session,
    person_id: UUID,
    round_id: UUID,
    file: FileOf,
    takings: dict[UUID, Taking],
    entries: dict[int, dict[str, Any] | None],
    now: datetime,
) -> dict[int, dict[str, Any]]:
    """Send the entries, card by card; return the answers by row."""
    sent = []
    for card_id, taking in takings.items():
        own = [e for e in entries.values() if e and e["card_id"] == str(card_id)]
        sent += [*own, *taking.notes()]
    answers = accept_entries(
        session,
        person_id=person_id,
        round_id=round_id,
        device=file.device,
        entries=sent,
        now=now,
    )
    by_key = {answer["key"]: answer for answer in answers}
    return {row: by_key[entry["key"]] for row, entry in entries.items() if entry}


def _after(
    session: Session, cards: Sequence[Card], takings: dict[UUID, Taking]
) -> dict[UUID, CardFacts]:
    return gather(session, [card for card in cards if card.id in takings])


def _nowhere(row: ReadRow) -> TriedRow:
    """Return a row of which nobody knows whose card it is for."""
    return TriedRow(
        read=row,
        card_id=None,
        point=row.point,
        status="wrong",
        faults=second_headings(row),
    )

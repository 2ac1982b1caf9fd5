"""What stands for safety on a round: book, acts and the reader of both."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy.orm import Session

from models.record.safety import Safety
from models.record.shapes.safety import SafetyBook
from models.schema import Card, Person, Round
from models.services.keeping.log import stamp
from models.services.safety.book import book_of_round
from models.services.safety.load_acts import acts_json, acts_of_round
from models.services.safety.round_rows import RoundRows, round_rows


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundSafety:
    """The safety of a round at a moment; `safety` answers for any other too."""

    book: SafetyBook
    acts: list[dict[str, Any]]
    rows: RoundRows
    safety: Safety
    at: str


def safety_of_round(
    session: Session,
    round_: Round,
    *,
    now: datetime | None = None,
    person: Person | None = None,
    cards: Sequence[Card] | None = None,
) -> RoundSafety:
    """Return what stands on a round, by all acts that have arrived.

    In a fixed number of queries. *person*: whose people the book names; *cards*: the
    round's, with apparatus and cell, where they are loaded already.
    """
    book = book_of_round(session, round_, person, cards)
    acts = acts_json(acts_of_round(session, round_))
    rows = round_rows(session, round_, book)
    return RoundSafety(
        book=book,
        acts=acts,
        rows=rows,
        safety=reader(book, acts, rows),
        at=stamp(now) if now else "",
    )


def reader(book: SafetyBook, acts: Sequence[dict[str, Any]], rows: RoundRows) -> Safety:
    """Return the reader of these acts."""
    return Safety(book, acts, rows.readings, rows.signed, rows.cells, rows.found_good)

"""What stands for safety on a round: book, acts and the reader of both."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy.orm import Session

from models.record.safety import Safety
from models.record.shapes.safety import SafetyBook
from models.schema import Card, Person, Round
from models.services.keeping.log import stamp
from models.services.safety.act_rows import act_json
from models.services.safety.book import book_of_round
from models.services.safety.load_acts import acts_json, acts_of_round
from models.services.safety.round_rows import RoundRows, reading_json, round_rows


@dataclass(slots=True, kw_only=True)
class RoundSafety:
    """The safety of a round at a moment; `safety` answers for any other too.

    `numbers` are those of `acts`, in their order of arrival. What comes later is taken
    in by `hear` and `hear_reading`.
    """

    book: SafetyBook
    acts: list[dict[str, Any]]
    numbers: list[int]
    rows: RoundRows
    safety: Safety
    at: str

    def hear(self, row: Any) -> None:
        """Take in an act that was taken just now."""
        act = act_json(row)
        self.acts.append(act)
        self.numbers.append(row.seq)
        self.safety.hear(act)

    def hear_reading(self, row: Any) -> tuple[str, int]:
        """Take in a reading that was stored just now; return its card and its place."""
        key = str(row.card_id)
        readings = self.rows.readings.setdefault(key, [])
        lists = self.book["cards"].get(key)
        readings.append(reading_json(row, lists, superseded=False))
        self.safety.hear_reading(key, len(readings) - 1)
        return key, len(readings) - 1

    def knowing(self, hidden: Collection[str]) -> Safety:
        """Return what stands for somebody who has not heard of some acts."""
        acts = [act for act in self.acts if act["id"] not in hidden]
        return reader(self.book, acts, self.rows)


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
    stored = acts_of_round(session, round_)
    acts = acts_json(stored)
    rows = round_rows(session, round_, book)
    return RoundSafety(
        book=book,
        acts=acts,
        numbers=[one.seq for one in stored],
        rows=rows,
        safety=reader(book, acts, rows),
        at=stamp(now) if now else "",
    )


def reader(book: SafetyBook, acts: Sequence[dict[str, Any]], rows: RoundRows) -> Safety:
    """Return the reader of these acts."""
    return Safety(
        book, [*acts], rows.readings, rows.signed, rows.cells, rows.found_good
    )

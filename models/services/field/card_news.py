"""Which cards of a round changed since a number of the log."""

from dataclasses import dataclass
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import Card, Deficiency, LogEntry, Reading, Round
from models.services.field.accept_entries import cards_as_they_stand
from models.services.keeping.log import head

MOST = 2000  # entries of the log; a tablet that is further behind takes the document
OF_CARDS: dict[str, type[Reading | Deficiency]] = {  # what names its card
    "reading": Reading,
    "deficiency": Deficiency,
}
OF_WHOLE = ("round", "lineup")  # what says something of more than single cards


@dataclass(frozen=True, slots=True, kw_only=True)
class CardNews:
    """The cards as they stand; *renew*: the document is to be fetched anew."""

    cards: list[dict[str, Any]]
    cursor: int
    renew: bool


def card_news(session: Session, round_: Round, since: int) -> CardNews:
    """Return what changed after the log's entry *since*.

    The log is read by its primary key: where nothing is new, that is one query.
    """
    asked = (
        select(LogEntry.seq, LogEntry.subject)
        .where(LogEntry.seq > since)
        .order_by(LogEntry.seq)
        .limit(MOST + 1)
    )
    found = session.execute(asked).all()
    if len(found) > MOST:
        return CardNews(cards=[], cursor=head(session)[0], renew=True)
    named = {_named(subject) for _, subject in found}
    cards = _cards(session, round_, named)
    return CardNews(
        cards=cards_as_they_stand(session, cards) if cards else [],
        cursor=found[-1].seq if found else since,
        renew=bool(named & _whole(round_)),
    )


def cards_cursor(session: Session) -> int:
    """Return the number from which a document that is made now asks for news."""
    return head(session)[0]


def _named(subject: str) -> tuple[str, str]:
    kind, _, identifier = subject.partition(" ")
    return kind, identifier


def _whole(round_: Round) -> set[tuple[str, str]]:
    ids = zip(OF_WHOLE, (round_.id, round_.lineup_id), strict=True)
    return {(kind, str(one)) for kind, one in ids}


def _cards(session: Session, round_: Round, named: set[tuple[str, str]]) -> list[Card]:
    wanted = set(_ids(named, "card"))
    for kind, row in OF_CARDS.items():
        if ids := _ids(named, kind):
            owner = select(row.card_id).where(row.id.in_(ids))
            wanted |= set(session.scalars(owner))
    if not wanted:
        return []
    rows = select(Card).where(Card.id.in_(wanted), Card.round_id == round_.id)
    return list(session.scalars(rows.order_by(Card.position)))


def _ids(named: set[tuple[str, str]], kind: str) -> list[UUID]:
    found = []
    for one, identifier in named:
        try:
            found += [UUID(identifier)] if one == kind else []
        except ValueError:  # "reading" may be the subject of older entries by name
            continue
    return found

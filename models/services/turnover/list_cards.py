"""The cards of all rounds that a person may see: a page at a time."""

from dataclasses import dataclass
from typing import Any
from uuid import UUID

from sqlalchemy import (
    ColumnElement,
    Select,
    and_,
    case,
    func,
    or_,
    select,
)
from sqlalchemy.orm import Session, aliased, contains_eager, joinedload

from models.procedures import PROCEDURES
from models.schema import (
    Agreement,
    Apparatus,
    Card,
    CardReturn,
    CardWithdrawal,
    ConfirmedTogether,
    Lineup,
    Note,
    Person,
    Reading,
    Round,
    Signature,
)
from models.services.people.access import person_of, visible_rounds
from models.services.turnover.list_rounds import names_lineup
from models.services.turnover.pages import ROWS, Page, has_words, start_of

STATES = ("not_begun", "begun", "returned", "signing", "signed", "withdrawn")


@dataclass(frozen=True, slots=True, kw_only=True)
class CardLine:
    """A card in a list."""

    id: UUID
    title: str
    detail: str
    state: str  # one of STATES
    assigned_to: str | None
    site_name: str
    lineup_name: str
    round_title: str
    round_id: UUID
    cell: str
    apparatus: str
    serial: str


def list_cards(
    session: Session,
    *,
    person_id: UUID,
    words: str = "",
    state: str = "",
    page: int = 1,
    size: int = ROWS,
) -> Page[CardLine]:
    """Return a page of the cards: newest round first, in the order of the round.

    *words*: each stands in its procedure's title, on its apparatus (tag or serial
    number), on its site or lineup, or in the name of who is assigned, signed or
    recorded; *state*: one of STATES, or "" for all. Three queries, however many.
    """
    person = person_of(session, person_id)
    found = _found(person, words, state)
    total = session.scalar(found.with_only_columns(func.count(Card.id)))
    rows = session.execute(
        found.add_columns(_state())
        .options(
            contains_eager(Card.round)
            .contains_eager(Round.lineup)
            .joinedload(Lineup.site),
            contains_eager(Card.apparatus),
            joinedload(Card.cell),
            joinedload(Card.assigned_to),
        )
        .order_by(Round.opened_at.desc(), Round.id, Card.position)
        .offset(start_of(page, size))
        .limit(size)
    ).all()
    lines = [_line(card, said) for card, said in rows]
    return Page(rows=lines, total=total or 0, number=max(1, page), size=size)


def _found(person: Person, words: str, state: str) -> Select[Any]:
    seen = visible_rounds(person).with_only_columns(Round.id)
    found = (
        select(Card)
        .join(Card.round)
        .join(Round.lineup)
        .join(Card.apparatus)
        .where(Card.round_id.in_(seen), has_words(words, _stands))
    )
    return found.where(_state() == state) if state in STATES else found


def _stands(word: str) -> ColumnElement[bool]:
    people = select(Person.id).where(Person.name.icontains(word, autoescape=True))
    titled = [
        name for name, p in PROCEDURES.items() if word.casefold() in p.title.casefold()
    ]
    signed = select(Signature.card_id).where(Signature.by_id.in_(people))
    read = select(Reading.card_id).where(Reading.by_id.in_(people))
    return or_(
        Card.procedure.in_(titled),
        Apparatus.label.icontains(word, autoescape=True),
        Apparatus.serial.icontains(word, autoescape=True),
        names_lineup(word),
        Card.assigned_to_id.in_(people),
        Card.id.in_(signed),
        Card.id.in_(read),
    )


def _state() -> ColumnElement[str]:
    """Return the state of a card, as `models.record.card.card_state` has it."""
    return case(
        (_withdrawn(), "withdrawn"),
        (and_(_signature().exists(), ~_to_sign().exists()), "signed"),
        (_signature().exists(), "signing"),
        (_of(CardReturn).exists(), "returned"),
        (
            or_(*(_of(t).exists() for t in (ConfirmedTogether, Reading, Note))),
            "begun",
        ),
        else_="not_begun",
    )


def _of(table: Any) -> Select[Any]:
    return select(table.id).where(table.card_id == Card.id).correlate(Card)


def _withdrawn() -> ColumnElement[bool]:
    refused = select(Agreement.withdrawal_id).where(
        Agreement.answer == "refused", Agreement.withdrawal_id.is_not(None)
    )
    return _of(CardWithdrawal).where(CardWithdrawal.id.not_in(refused)).exists()


def _signature() -> Select[Any]:
    """Select the signatures that hold: made after the card was last returned."""
    later = (
        select(CardReturn.id)
        .where(CardReturn.card_id == Signature.card_id, CardReturn.at >= Signature.at)
        .correlate(Signature)
    )
    return _of(Signature).where(~later.exists())


def _to_sign() -> Select[Any]:
    """Select the readings that hold, of an open round, that nobody signed for."""
    newer = aliased(Reading)
    superseded = (
        select(newer.id).where(newer.supersedes_id == Reading.id).correlate(Reading)
    )
    own = _signature().where(Signature.by_id == Reading.by_id)
    return (
        _of(Reading)
        .where(
            Round.state == "open",
            ~superseded.exists(),
            ~own.correlate(Card, Reading).exists(),
        )
        .correlate(Card, Round)
    )


def _line(card: Card, state: str) -> CardLine:
    lineup, cell = card.round.lineup, card.cell
    return CardLine(
        id=card.id,
        title=PROCEDURES[card.procedure].title,
        detail=card.detail,
        state=state,
        assigned_to=card.assigned_to.name if card.assigned_to else None,
        site_name=lineup.site.name,
        lineup_name=lineup.name,
        round_title=card.round.title,
        round_id=card.round_id,
        cell=f"Cell {cell.number}, {cell.name}",
        apparatus=card.apparatus.label,
        serial=card.apparatus.serial or "",
    )

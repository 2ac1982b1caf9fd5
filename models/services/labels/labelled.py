"""What a label opens: the cell or the card of an open round, else the apparatus."""

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from models.errors import NotFoundError
from models.schema import Apparatus, Card, Cell, Round
from models.services.people.access import (
    lineup_of,
    may,
    person_of,
    sees_site,
    visible_rounds,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Labelled:
    """Where a label leads; None where there is nothing of that kind.

    *card_id* is given where the round has one card of the apparatus alone.
    """

    lineup_id: UUID | None
    cell_id: UUID | None
    apparatus_id: UUID | None
    round_id: UUID | None
    card_id: UUID | None


def labelled(session: Session, *, person_id: UUID, thing_id: UUID) -> Labelled:
    """Return where the label of a cell or an apparatus leads this person.

    Of several open rounds it is the one opened last. NotFoundError when there is no
    such thing, or none that is theirs to see.
    """
    person = person_of(session, person_id)
    apparatus = session.get(Apparatus, thing_id)
    cell = apparatus.cell if apparatus else session.get(Cell, thing_id)
    if apparatus and not sees_site(session, person, apparatus.site_id):
        raise NotFoundError("label", thing_id)
    if cell is None and apparatus is None:
        raise NotFoundError("label", thing_id)
    if apparatus is None and cell is not None:
        lineup_of(session, person, cell.lineup_id)
    cards: Sequence[Card] = ()
    if may(person, "record"):
        cards = session.scalars(
            select(Card)
            .join(Card.round)
            .where(
                Round.id.in_(visible_rounds(person).with_only_columns(Round.id)),
                Round.state == "open",
                or_(Card.apparatus_id == thing_id, Card.cell_id == thing_id),
            )
            .order_by(Round.opened_at.desc(), Round.id, Card.position)
        ).all()
    rounds = [card.round_id for card in cards]
    own = [card for card in cards if card.round_id == rounds[0]]
    single = own[0] if apparatus and len(own) == 1 else None
    place = own[0].cell_id if own else cell.id if cell else None
    return Labelled(
        lineup_id=cell.lineup_id if cell else None,
        cell_id=place,
        apparatus_id=apparatus.id if apparatus else None,
        round_id=rounds[0] if rounds else None,
        card_id=single.id if single else None,
    )

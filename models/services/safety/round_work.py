"""What is planned on a round, as the lines of safety are chosen by it."""

from collections.abc import Sequence

from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload, selectinload

from models.criteria.safety import PlannedCard, Work, WorkCell
from models.schema import Apparatus, Card, CardWithdrawal, Cell, Round
from models.schema.findings import Agreement


def planned_cards(session: Session, round_: Round) -> list[Card]:
    """Return the round's cards in order, each with its apparatus and cell."""
    asked = (
        select(Card)
        .where(Card.round_id == round_.id)
        .options(joinedload(Card.apparatus), joinedload(Card.cell))
        .order_by(Card.position)
    )
    return list(session.scalars(asked))


def work_of(session: Session, round_: Round, cards: Sequence[Card]) -> Work:
    """Return the planned work; gear of an acceptance round has never carried load."""
    cells = session.scalars(
        select(Cell)
        .where(Cell.lineup_id == round_.lineup_id, Cell.removed.is_(False))
        .options(selectinload(Cell.apparatus))
        .order_by(Cell.position)
    )
    return Work(
        gear=round_.lineup.gear,
        cells=[
            WorkCell(
                id=str(cell.id),
                bus=cell.bus,
                kinds=_kinds(cell.apparatus),
                drawn=cell.kind,
            )
            for cell in cells
        ],
        cards=[
            PlannedCard(
                id=str(card.id),
                procedure=card.procedure,
                apparatus=str(card.apparatus_id),
                kind=card.apparatus.kind,
                cell=str(card.cell_id),
            )
            for card in cards
        ],
        known={"carried_load": round_.kind == "maintenance"},
    )


def _kinds(apparatus: Sequence[Apparatus]) -> list[str]:
    return [one.kind for one in apparatus if not one.removed]


def withdrawn_cards(session: Session, round_: Round) -> set[str]:
    """Return the ids of the cards that are out of the programme."""
    asked = (
        select(CardWithdrawal.card_id)
        .join(Card, Card.id == CardWithdrawal.card_id)
        .outerjoin(Agreement, Agreement.withdrawal_id == CardWithdrawal.id)
        .where(
            Card.round_id == round_.id,
            (Agreement.answer.is_(None)) | (Agreement.answer != "refused"),
        )
    )
    return {str(one) for one in session.scalars(asked)}

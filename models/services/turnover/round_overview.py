"""A round for its pages: what is at its head, its cells, its cards."""

from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.procedures import PROCEDURES
from models.record.verdicts import VERDICTS
from models.schema import Cell, Round
from models.services.field.card_facts import CardFacts, gather, round_cards
from models.services.people.access import person_of, round_of
from models.services.planning.changes import ChangeSaid, changes_of
from models.services.setup.nameplate import GEAR_NAMES, ratings_line
from models.services.turnover.list_rounds import verdict_counts


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundHead:
    """What stands at the head and in the title block of a round's pages."""

    id: UUID
    title: str
    kind: str
    state: str
    revision: int
    programme: str
    opened_at: datetime
    opened_by: str
    site_name: str
    zone: str
    lineup_id: UUID
    lineup_name: str
    gear: str
    gear_name: str
    rated_kv: float
    ratings: str
    earlier_list: bool  # confirmed card by card, by the list before the scopes


@dataclass(frozen=True, slots=True, kw_only=True)
class CardLine:
    """A card in the schedule of its round."""

    id: UUID
    position: int
    apparatus: str
    title: str
    detail: str
    state: str
    points: int
    read: int
    counts: dict[str, int]
    open_deficiencies: int
    signed_by: str | None
    signed_at: datetime | None
    assigned_to: str | None
    planned_on: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CellOverview:
    """A cell with its cards; a withdrawn card counts neither way."""

    id: UUID
    number: str
    name: str
    kind: str
    bus: str
    cards: list[CardLine]

    @property
    def standing(self) -> list[CardLine]:
        """The cards that were not withdrawn."""
        return [card for card in self.cards if card.state != "withdrawn"]

    @property
    def signed(self) -> int:
        """How many cards are signed as performed."""
        return sum(card.state == "signed" for card in self.standing)

    @property
    def findings(self) -> list[tuple[str, int]]:
        """(verdict, readings) for what is not within."""
        found = []
        for verdict in VERDICTS[1:]:
            count = sum(card.counts[verdict] for card in self.cards)
            if count:
                found.append((verdict, count))
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundOverview:
    """The round's head and its cells, from the left; *changes* of its plan."""

    head: RoundHead
    cells: list[CellOverview]
    changes: list[ChangeSaid]


def round_overview(
    session: Session, *, person_id: UUID, round_id: UUID
) -> RoundOverview:
    """Return the round's overview; NotFoundError when it is not theirs to see."""
    person = person_of(session, person_id)
    round_ = round_of(session, person, round_id)
    facts = list(gather(session, round_cards(session, round_.id)).values())
    cells = session.scalars(
        select(Cell)
        .where(Cell.lineup_id == round_.lineup_id, Cell.removed.is_(False))
        .order_by(Cell.position)
    )
    return RoundOverview(
        head=round_head(round_),
        cells=[_cell(cell, facts) for cell in cells],
        changes=changes_of(round_),
    )


def round_head(round_: Round) -> RoundHead:
    """Return what stands at the head of the round's pages."""
    lineup = round_.lineup
    return RoundHead(
        id=round_.id,
        title=round_.title,
        kind=round_.kind,
        state=round_.state,
        revision=round_.revision,
        programme=round_.programme,
        opened_at=round_.opened_at,
        opened_by=round_.opened_by.name,
        site_name=lineup.site.name,
        zone=lineup.site.zone,
        lineup_id=lineup.id,
        lineup_name=lineup.name,
        gear=lineup.gear,
        gear_name=GEAR_NAMES[lineup.gear],
        rated_kv=lineup.rated_kv,
        ratings=ratings_line(lineup),
        earlier_list=round_.earlier_list,
    )


def _cell(cell: Cell, facts: list[CardFacts]) -> CellOverview:
    own = [one for one in facts if one.card.cell_id == cell.id]
    return CellOverview(
        id=cell.id,
        number=cell.number,
        name=cell.name,
        kind=cell.kind,
        bus=cell.bus_label,
        cards=[_card_line(one) for one in own],
    )


def _card_line(facts: CardFacts) -> CardLine:
    card, signed = facts.card, facts.signed
    names = " and ".join(s.by.name for s in signed)
    counts = verdict_counts([facts])
    return CardLine(
        id=card.id,
        position=card.position,
        apparatus=card.apparatus.label,
        title=PROCEDURES[card.procedure].title,
        detail=card.detail,
        state=facts.state,
        points=len(card.points),
        read=sum(counts[verdict] for verdict in VERDICTS),
        counts=counts,
        open_deficiencies=sum(d.closing is None for d in facts.deficiencies),
        signed_by=names or None,
        signed_at=max((s.at for s in signed), default=None),
        assigned_to=card.assigned_to.name if card.assigned_to else None,
        planned_on=card.planned_on,
    )

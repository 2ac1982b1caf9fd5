"""The plan of a round: every card that it could have, and what is chosen of it."""

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.record.findings import OUTSIDE_LET_STAND
from models.schema import Apparatus
from models.services.people.access import lineup_apparatus
from models.services.planning.from_baseline import Baseline, baseline_cards
from models.services.setup.planned_points import PlannedPoint
from models.services.setup.programmes import (
    PlannedCard,
    offered_cards,
    programme_named,
)
from models.services.setup.programmes_file import OPTIONAL, REQUIRED

ADDED = "added"  # the mark of a card that no programme chose


@dataclass(frozen=True, slots=True, kw_only=True)
class Reasoned:
    """Why something is otherwise than proposed; *by_id* None: whoever opens."""

    reason: str
    by_id: UUID | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class EditionAnswer:
    """The print of a table that the contract names, and the document that says so."""

    table: str
    print: str
    document: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanCard:
    """A card that the round may have.

    *planned* says whether it has it; *was* are the points that the programme gives,
    or the baseline of a maintenance round (*from_baseline*).
    """

    apparatus_id: UUID
    procedure: str
    detail: str
    unit: str
    defaults: Mapping[str, Any]
    points: Sequence[PlannedPoint]
    was: Sequence[PlannedPoint]
    mark: str
    planned: bool
    from_baseline: bool = False
    left_out: Reasoned | None = None
    added: Reasoned | None = None
    changed: Reasoned | None = None
    assigned_to_id: UUID | None = None
    planned_on: date | None = None

    @property
    def key(self) -> str:
        """What it is called by in forms and addresses."""
        return card_key(self.apparatus_id, self.procedure, self.detail)

    @property
    def is_optional(self) -> bool:
        """Whether nobody need say why it is left out."""
        return self.mark == OPTIONAL

    @property
    def is_unfitted(self) -> bool:
        """Whether it is marked if fitted and the nameplate has nothing of it."""
        return not self.planned and self.left_out is None and not self.is_optional


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundPlan:
    """The cards of a round to be, cell by cell, and what its lead chose for it."""

    lineup_id: UUID
    kind: str
    programme: str
    cards: Sequence[PlanCard]
    outside_let_stand: str = OUTSIDE_LET_STAND[0]
    editions: Sequence[EditionAnswer] = field(default_factory=tuple)

    @property
    def planned(self) -> list[PlanCard]:
        """The cards that the round gets."""
        return [card for card in self.cards if card.planned]

    @property
    def left_out(self) -> list[PlanCard]:
        """The cards that the programme wants and the round does not get."""
        return [card for card in self.cards if card.left_out is not None]

    def card(self, key: str) -> PlanCard | None:
        """Return the card of that key, or None."""
        return next((card for card in self.cards if card.key == key), None)


def card_key(apparatus_id: UUID, procedure: str, detail: str) -> str:
    """Return what a card is called by, before it has an identifier."""
    said = hashlib.sha256(f"{procedure}\n{detail}".encode()).hexdigest()
    return f"{apparatus_id.hex}-{said[:12]}"


def proposed_plan(
    session: Session,
    lineup_id: UUID,
    kind: str,
    programme: str,
    *,
    optional: bool = False,
) -> RoundPlan:
    """Return what a programme, and for maintenance the baseline, proposes.

    Optional cards are in it, planned where *optional* says so or the baseline has
    them. Raises NotFoundError for a programme that is none.
    """
    chosen = programme_named(programme)
    baseline = baseline_cards(session, lineup_id) if kind == "maintenance" else {}
    cards: list[PlanCard] = []
    for apparatus in lineup_apparatus(session, lineup_id):
        rest = {k: b for k, b in baseline.items() if k[0] == apparatus.id}
        for offered in offered_cards(apparatus, chosen):
            own = rest.pop((apparatus.id, offered.procedure, offered.detail), None)
            card = _of_programme(apparatus, offered, optional=optional)
            cards.append(card if own is None else with_baseline(card, own))
        cards.extend(_of_baseline(apparatus, rest))
    return RoundPlan(
        lineup_id=lineup_id, kind=kind, programme=chosen.name, cards=tuple(cards)
    )


def _of_programme(
    apparatus: Apparatus, offered: PlannedCard, *, optional: bool
) -> PlanCard:
    return PlanCard(
        apparatus_id=apparatus.id,
        procedure=offered.procedure,
        detail=offered.detail,
        unit=offered.unit,
        defaults=offered.defaults,
        points=offered.points,
        was=offered.points,
        mark=offered.mark,
        planned=offered.wanted or (optional and offered.mark == OPTIONAL),
    )


def with_baseline(card: PlanCard, own: Baseline) -> PlanCard:
    """Return the card with the baseline's points and what was applied there.

    What the nameplate fixes of a point is taken as it stands today.
    """
    today = {point.label: point for point in card.points}
    points = tuple(today.get(point.label, point) for point in own.points)
    defaults = {**card.defaults, **own.applied}
    return replace(
        card,
        unit=own.unit,
        defaults=defaults,
        points=points,
        was=points,
        planned=True,
        from_baseline=True,
    )


def _of_baseline(
    apparatus: Apparatus, rest: Mapping[tuple[UUID, str, str], Baseline]
) -> Iterator[PlanCard]:
    """Yield the cards of the baseline that the programme does not choose."""
    for (_, procedure, detail), own in rest.items():
        yield PlanCard(
            apparatus_id=apparatus.id,
            procedure=procedure,
            detail=detail,
            unit=own.unit,
            defaults={**own.defaults, **own.applied},
            points=own.points,
            was=own.points,
            mark=REQUIRED,
            planned=True,
            from_baseline=True,
        )

"""What a lead chose in a plan, as it is kept, and the plan with it.

    {"cards": {key: {"planned", "reason", "points", "points_reason", "assigned_to",
                     "planned_on", "by"}},
     "added": [{"apparatus", "procedure", "detail", "unit", "points", "reason", "by"}],
     "editions": {table: {"print", "document"}},
     "outside_let_stand": "..."}

Only what differs from the proposal is kept, so that a lineup that changed in between
is planned as it stands.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import Any
from uuid import UUID

from models.errors import InputError
from models.schema import Apparatus
from models.services.planning.points import read_points
from models.services.planning.round_plan import (
    ADDED,
    EditionAnswer,
    PlanCard,
    Reasoned,
    RoundPlan,
)
from models.services.setup.programmes import offered_cards, points_of

Choices = Mapping[str, Any]


def with_choices(
    plan: RoundPlan, choices: Choices, apparatus: Sequence[Apparatus]
) -> RoundPlan:
    """Return the plan with what was chosen; *apparatus*: the lineup's, in its order.

    What was chosen for a card that the proposal no longer has is not in it.
    """
    found = {one.id: one for one in apparatus}
    cards = [*plan.cards, *_added(choices, found)]
    order = {key: n for n, key in enumerate(found)}
    cards.sort(key=lambda card: order[card.apparatus_id])  # stable: added ones last
    said = choices.get("cards", {})
    return replace(
        plan,
        cards=tuple(
            _chosen(card, said.get(card.key, {}), found[card.apparatus_id])
            for card in cards
        ),
        outside_let_stand=choices.get("outside_let_stand", plan.outside_let_stand),
        editions=tuple(
            EditionAnswer(table=table, print=one["print"], document=one["document"])
            for table, one in choices.get("editions", {}).items()
        ),
    )


def _chosen(card: PlanCard, said: Mapping[str, Any], apparatus: Apparatus) -> PlanCard:
    card = replace(
        card,
        assigned_to_id=_read(UUID, said.get("assigned_to")),
        planned_on=_read(date.fromisoformat, said.get("planned_on")),
    )
    if "planned" in said:
        card = _left_out(card, said)
    return _with_points(card, said, apparatus) if said.get("points") else card


def _left_out(card: PlanCard, said: Mapping[str, Any]) -> PlanCard:
    if said["planned"] == card.planned:
        return card
    if said["planned"]:
        return replace(card, planned=True)
    why = None if card.is_optional else _reasoned(said, "reason")
    return replace(card, planned=False, left_out=why)


def _with_points(
    card: PlanCard, said: Mapping[str, Any], apparatus: Apparatus
) -> PlanCard:
    """Return the card with its own points; those of before where they cannot be now."""
    try:
        points = read_points(
            card.procedure,
            said["points"],
            was=card.was,
            nameplate=apparatus.nameplate,
        )
    except InputError:
        return card
    if points == tuple(card.was):
        return card
    return replace(card, points=points, changed=_reasoned(said, "points_reason"))


def _added(choices: Choices, apparatus: Mapping[UUID, Apparatus]) -> Iterator[PlanCard]:
    for said in choices.get("added", ()):
        found = apparatus.get(UUID(said["apparatus"]))
        if found is not None:
            yield added_card(found, said)


def added_card(apparatus: Apparatus, said: Mapping[str, Any]) -> PlanCard:
    """Return a card that no programme chose, with the points that were written."""
    was = proposed_points(apparatus, said["procedure"], said["detail"])
    points = read_points(
        said["procedure"],
        said["points"] or [point.label for point in was],
        was=was,
        nameplate=apparatus.nameplate,
    )
    return PlanCard(
        apparatus_id=apparatus.id,
        procedure=said["procedure"],
        detail=said["detail"],
        unit=said["unit"],
        defaults={},
        points=points,
        was=points,
        mark=ADDED,
        planned=True,
        added=_reasoned(said, "reason"),
    )


def proposed_points(apparatus: Apparatus, procedure: str, detail: str) -> Sequence[Any]:
    """Return the points that some programme gives such a card, else the pattern's."""
    known = [c for c in offered_cards(apparatus) if c.procedure == procedure]
    for card in [*(c for c in known if c.detail == detail), *known]:
        return card.points
    return points_of(procedure, apparatus)


def _reasoned(said: Mapping[str, Any], field: str) -> Reasoned:
    return Reasoned(reason=said.get(field, ""), by_id=_read(UUID, said.get("by")))


def _read(read: Callable[[str], Any], said: str | None) -> Any:
    return read(said) if said else None

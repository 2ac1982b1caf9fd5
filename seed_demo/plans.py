"""How the lead planned the demo's rounds: what differs from the programme."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from sqlalchemy.orm import Session

from models.schema import Apparatus
from models.services.planning.points import read_points
from models.services.planning.round_plan import (
    EditionAnswer,
    PlanCard,
    Reasoned,
    RoundPlan,
)
from seed_demo.people import SECOND, TECHNICIAN, DemoPerson
from seed_demo.readings import CE, CI, CR, DW, IN_SERVICE, IR
from seed_demo.site import ZONE

Place = tuple[str, str]  # apparatus, procedure


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanChanges:
    """What the lead chose: cards by their place, people by apparatus.

    *later* are procedures that are done a day after the others; *also*, places whose
    optional card is planned, the first where a place has more.
    """

    left_out: Mapping[Place, str] = field(default_factory=dict)
    points: Mapping[Place, tuple[Sequence[str], str]] = field(default_factory=dict)
    people: Mapping[str, DemoPerson] = field(default_factory=dict)
    later: Sequence[str] = (DW,)
    editions: Sequence[EditionAnswer] = ()
    also: Sequence[Place] = ()


FIRST_OF_SG1 = PlanChanges(also=(("breaker 52-1", CI), ("CT 1", CE)))
SECOND_YEAR_OF_SG1 = PlanChanges(also=tuple(IN_SERVICE))
HALF_DONE = PlanChanges(
    left_out={
        ("switch 89-3", CR): "Its fuse links are not delivered yet, and the path "
        "goes through them: tested with the next round."
    },
    people={
        "bus": TECHNICIAN,
        "switch 89-1": TECHNICIAN,
        "switch 89-2": TECHNICIAN,
        "switch 89-3": SECOND,
    },
    editions=(
        EditionAnswer(
            table="field_enclosed",
            print="field_enclosed_older",
            document="Intake works specification GH-EL-014, revision B, clause 7.5",
        ),
    ),
)
NOT_BEGUN = PlanChanges(
    points={
        ("bus and tank 1", IR): (
            ("A-G", "B-G", "C-G"),
            "Each phase of this bus has a grounded screen of its own: there is "
            "nothing to measure between two phases.",
        )
    },
    people={
        "bus and tank 1": SECOND,
        "switch 89-E": TECHNICIAN,
        "switch 89-W": TECHNICIAN,
        "breaker 52-F": SECOND,
    },
    editions=(
        EditionAnswer(
            table="insulation_minimum",
            print="insulation_minimum",
            document="Outfall contract GH-EL-021, clause 4.2",
        ),
    ),
)


def changed_plan(
    session: Session, proposed: RoundPlan, changes: PlanChanges, now: datetime
) -> RoundPlan:
    """Return the plan with the changes, for the days that follow *now* at the site."""
    first = now.astimezone(ZoneInfo(ZONE)).date()
    asked = set(changes.also)
    cards = []
    for card in proposed.cards:
        apparatus = session.get_one(Apparatus, card.apparatus_id)
        if (place := (apparatus.label, card.procedure)) in asked:
            asked.remove(place)
            card = replace(card, planned=True)
        cards.append(_changed(card, apparatus, changes, first))
    if asked:
        raise ValueError(f"no such card in the programme: {asked}")
    return replace(proposed, cards=cards, editions=changes.editions)


def _changed(
    card: PlanCard, apparatus: Apparatus, changes: PlanChanges, first: date
) -> PlanCard:
    place = (apparatus.label, card.procedure)
    if place in changes.left_out:
        why = Reasoned(reason=changes.left_out[place])
        return replace(card, planned=False, left_out=why)
    if not card.planned:
        return card
    if place in changes.points:
        labels, reason = changes.points[place]
        points = read_points(
            card.procedure, labels, was=card.was, nameplate=apparatus.plate
        )
        card = replace(card, points=points, changed=Reasoned(reason=reason))
    person = changes.people.get(apparatus.label)
    return replace(
        card,
        assigned_to_id=person.id if person else None,
        planned_on=first + timedelta(days=card.procedure in changes.later),
    )

"""Open a round on a lineup: a card for each procedure on each apparatus."""

from collections.abc import Callable
from datetime import datetime
from uuid import UUID

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models.errors import Fault, InputError
from models.record.findings import OUTSIDE_LET_STAND
from models.schema import Apparatus, Card, Lineup, Point, Round
from models.services.criteria.rules_in_force import RulesInForce
from models.services.keeping.log import append_log, take_turn
from models.services.keeping.rules import keep_rules, rule_digest
from models.services.people.access import (
    lineup_apparatus,
    lineup_of,
    person_of,
    require,
)
from models.services.setup.programmes import (
    PlannedCard,
    Programme,
    planned_cards,
    programme_named,
)


def plan_round(
    session: Session,
    *,
    person_id: UUID,
    lineup_id: UUID,
    kind: str,
    programme: str,
    outside_let_stand: str = OUTSIDE_LET_STAND[0],
    now: datetime,
    new_id: Callable[[], UUID],
    optional: bool = False,
) -> UUID:
    """Open a round and return its id; *optional*: with the programme's optional cards.

    Each point carries its rule from now on, compiled from the nameplates, what
    makers and the project give, and the published tables as they stand today.
    *outside_let_stand* says what the package makes of an outside reading that is let
    stand and agreed to: it does not conform, or it conforms with that deviation.
    Raises InputError when a round of this lineup is still open.
    """
    take_turn(session)
    person = person_of(session, person_id)
    require(person, "plan")
    lineup = lineup_of(session, person, lineup_id, "plan")
    chosen = programme_named(programme)
    if outside_let_stand not in OUTSIDE_LET_STAND:
        message = "Say what an outside reading that is let stand makes of the round."
        raise InputError(Fault(field="outside_let_stand", message=message))
    _check_plan(session, lineup, kind, chosen)
    round_ = Round(
        id=new_id(),
        lineup_id=lineup.id,
        kind=kind,
        number=_next_number(session, lineup, kind),
        programme=chosen.name,
        state="open",
        revision=0,
        outside_let_stand=outside_let_stand,
        opened_at=now,
        opened_by_id=person.id,
    )
    rules = RulesInForce(session, lineup, person.organisation_id)
    wanted = [
        (apparatus, planned, rules.rule(apparatus, planned.procedure))
        for apparatus in lineup_apparatus(session, lineup.id)
        for planned in planned_cards(apparatus, chosen, optional=optional)
    ]
    keep_rules(session, (rule for _, _, rule in wanted))
    session.add(round_)
    round_.cards += [
        _card(apparatus, planned, position, rule_digest(rule), new_id)
        for position, (apparatus, planned, rule) in enumerate(wanted, start=1)
    ]
    session.flush()
    append_log(
        session,
        actor_id=person.id,
        action="open round",
        subject=f"round {round_.id}",
        body={
            "lineup": str(lineup.id),
            "title": round_.title,
            "cards": len(wanted),
            "outside_let_stand": outside_let_stand,
        },
        now=now,
    )
    return round_.id


def _card(
    apparatus: Apparatus,
    planned: PlannedCard,
    position: int,
    rule: str,
    new_id: Callable[[], UUID],
) -> Card:
    return Card(
        id=new_id(),
        apparatus_id=apparatus.id,
        position=position,
        procedure=planned.procedure,
        detail=planned.detail,
        unit=planned.unit,
        defaults=planned.defaults,
        points=[
            Point(
                id=new_id(),
                position=at,
                label=point.label,
                group=point.group,
                given=point.given,
                rule_digest=rule,
            )
            for at, point in enumerate(planned.points, start=1)
        ],
    )


def _check_plan(
    session: Session, lineup: Lineup, kind: str, programme: Programme
) -> None:
    faults = []
    if programme.kind != kind:
        faults.append(
            Fault(
                field="programme",
                message=f"'{programme.name}' is for {programme.kind} rounds: choose "
                "the kind or the programme again.",
            )
        )
    if lineup.gear not in programme.gears:
        faults.append(
            Fault(field="programme", message="This programme is for other gear.")
        )
    still_open = select(Round).where(
        Round.lineup_id == lineup.id, Round.state == "open"
    )
    if (found := session.scalars(still_open).first()) is not None:
        faults.append(
            Fault(
                field="lineup",
                message=f"{found.title} of {lineup.name} is still open: "
                "turn it over before the next one begins.",
            )
        )
    if faults:
        raise InputError(*faults)


def _next_number(session: Session, lineup: Lineup, kind: str) -> int:
    last = session.scalars(
        select(func.max(Round.number)).where(
            Round.lineup_id == lineup.id, Round.kind == kind
        )
    ).one()
    return (last or 0) + 1

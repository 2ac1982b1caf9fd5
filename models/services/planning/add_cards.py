"""Put planned cards into a round, with what was changed in the plan and why."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import date, datetime
from itertools import groupby
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.errors import ConflictError
from models.procedures.baseline import Baseline
from models.schema import Apparatus, Card, Person, PlanChange, Point, Round
from models.services.criteria.rules_in_force import RulesInForce
from models.services.keeping.log import append_log
from models.services.keeping.rules import keep_rules, rule_digest
from models.services.owner.baseline import Place, baselines
from models.services.planning.round_plan import PlanCard, Reasoned


def add_cards(
    session: Session,
    round_: Round,
    rules: RulesInForce,
    planned: Sequence[PlanCard],
    new_id: Callable[[], UUID],
) -> list[Card]:
    """Add the cards behind those that the round has; return them in their order.

    Every point gets the rule of today, in a maintenance round with its baseline.
    """
    apparatus = {a.id: a for a in _apparatus(session, planned)}
    at = baselines(session, round_, (one.procedure for one in planned))
    wanted = [
        (one, list(_rules(one, apparatus[one.apparatus_id], rules, at)))
        for one in planned
    ]
    keep_rules(session, (rule for _, own in wanted for rule in own))
    first = len(round_.cards) + 1
    cells = {key: _cell_of(one) for key, one in apparatus.items()}
    cards = [
        _card(
            one, cells[one.apparatus_id], position, list(map(rule_digest, own)), new_id
        )
        for position, (one, own) in enumerate(wanted, start=first)
    ]
    round_.cards += cards
    session.flush()
    return cards


def _rules(
    one: PlanCard,
    apparatus: Apparatus,
    rules: RulesInForce,
    at: Mapping[Place, Baseline],
) -> Iterator[dict[str, Any]]:
    """Yield the rule of each point of a card."""
    for point in one.points:
        place = (one.apparatus_id, one.procedure, one.detail, point.label)
        yield rules.rule(apparatus, one.procedure, at.get(place))


def _apparatus(session: Session, planned: Iterable[PlanCard]) -> list[Apparatus]:
    keys = dict.fromkeys(one.apparatus_id for one in planned)
    return [session.get_one(Apparatus, key) for key in keys]


def _cell_of(apparatus: Apparatus) -> UUID:
    if apparatus.cell_id is None:
        raise ConflictError(
            f"{apparatus.label} stands on the spare shelf now: no round can test it "
            "there. Plan again."
        )
    return apparatus.cell_id


def _card(
    one: PlanCard,
    cell_id: UUID,
    position: int,
    rules: Sequence[str],
    new_id: Callable[[], UUID],
) -> Card:
    return Card(
        id=new_id(),
        apparatus_id=one.apparatus_id,
        cell_id=cell_id,
        position=position,
        procedure=one.procedure,
        detail=one.detail,
        unit=one.unit,
        defaults=dict(one.defaults),
        assigned_to_id=one.assigned_to_id,
        planned_on=one.planned_on,
        points=[
            Point(
                id=new_id(),
                position=at,
                label=point.label,
                group=point.group,
                given=dict(point.given),
                rule_digest=rule,
            )
            for at, (point, rule) in enumerate(
                zip(one.points, rules, strict=True), start=1
            )
        ],
    )


def add_changes(
    session: Session,
    person: Person,
    round_: Round,
    plan: Iterable[PlanCard],
    made: Mapping[str, Card],
    now: datetime,
    new_id: Callable[[], UUID],
) -> None:
    """Record each card that is left out, added or has other points, with its reason.

    *made* are the round's cards by the keys of the plan.
    """
    for one in plan:
        card = made.get(one.key)
        said = [("left_out", one.left_out)] if card is None else []
        if card is not None:
            said = [("added", one.added), ("points", one.changed)]
        for what, why in said:
            if why is not None:
                cell_id = _cell_of(session.get_one(Apparatus, one.apparatus_id))
                change = _change(
                    round_, person, cell_id, one, card, what, why, now, new_id
                )
                session.add(change)
                session.flush()
                _log_change(session, person, change, now)


def _change(
    round_: Round,
    person: Person,
    cell_id: UUID,
    one: PlanCard,
    card: Card | None,
    what: str,
    why: Reasoned,
    now: datetime,
    new_id: Callable[[], UUID],
) -> PlanChange:
    return PlanChange(
        id=new_id(),
        round_id=round_.id,
        what=what,
        cell_id=cell_id,
        apparatus_id=one.apparatus_id,
        procedure=one.procedure,
        detail=one.detail,
        card_id=card.id if card else None,
        was=[] if what == "added" else [point.label for point in one.was],
        reason=why.reason,
        by_id=why.by_id or person.id,
        at=now,
    )


ACTIONS = {
    "left_out": "leave out card",
    "added": "add card",
    "points": "change points",
}


def change_said(change: PlanChange) -> dict[str, object]:
    """Return what the log says of a change."""
    return {
        "change": str(change.id),
        "cell": str(change.cell_id),
        "apparatus": str(change.apparatus_id),
        "procedure": change.procedure,
        "detail": change.detail,
        "card": str(change.card_id) if change.card_id else None,
        "was": change.was,
        "reason": change.reason,
        "by": str(change.by_id),
    }


def _log_change(
    session: Session, person: Person, change: PlanChange, now: datetime
) -> None:
    append_log(
        session,
        actor_id=person.id,
        action=ACTIONS[change.what],
        subject=f"round {change.round_id}",
        body=change_said(change),
        now=now,
    )


def log_assigned(
    session: Session,
    person: Person,
    round_: Round,
    cards: Iterable[Card],
    now: datetime,
    before: Mapping[UUID, tuple[UUID | None, date | None]] | None = None,
) -> None:
    """Say in the log who does which cards and on which day, an entry for each pair.

    *before*: (person, day) of each card until now; None: they are new.
    """
    said = [card for card in cards if _moved(card, before)]
    said.sort(key=lambda card: (_place(card), card.position))
    for (to, on), own in groupby(said, key=_place):
        append_log(
            session,
            actor_id=person.id,
            action="assign cards",
            subject=f"round {round_.id}",
            body=_assigned(list(own), to or None, on or None, before),
            now=now,
        )


def _moved(
    card: Card, before: Mapping[UUID, tuple[UUID | None, date | None]] | None
) -> bool:
    held = (None, None) if before is None else before[card.id]
    return (card.assigned_to_id, card.planned_on) != held


def _place(card: Card) -> tuple[str, str]:
    return (str(card.assigned_to_id or ""), str(card.planned_on or ""))


def _assigned(
    cards: Sequence[Card],
    to: str | None,
    on: str | None,
    before: Mapping[UUID, tuple[UUID | None, date | None]] | None,
) -> dict[str, object]:
    body: dict[str, object] = {
        "cards": [str(card.id) for card in cards],
        "to": to,
        "on": on,
    }
    if before is not None:
        body["before"] = [
            [str(to) if to else None, on.isoformat() if on else None]
            for to, on in (before[card.id] for card in cards)
        ]
    return body

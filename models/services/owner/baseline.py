"""The baseline: the accepted readings of the acceptance round, at 20 degC."""

from collections.abc import Iterable, Sequence
from typing import Any
from uuid import UUID

from sqlalchemy import ColumnElement, or_, select
from sqlalchemy.orm import Session, joinedload, selectinload

from models.judging.series import SERIES
from models.procedures import PROCEDURES
from models.procedures.baseline import Baseline
from models.schema import Card, Lineup, Point, Round
from models.services.field.card_facts import CardFacts, gather_readings, round_cards
from models.services.field.card_view import judged_again
from models.services.keeping.log import stamp
from models.services.setup.programmes import detail_today, label_today

# What makes readings of different rounds comparable: the same point of the same
# procedure on the same apparatus.
Place = tuple[UUID, str, str, str]


def place_of(card: Card, point: Point) -> Place:
    """Return where a reading was taken, independent of its round.

    Card and point go by their names of today, whatever their round calls them.
    """
    detail = detail_today(card.procedure, card.detail)
    label = label_today(card.procedure, card.detail, point.label)
    return (card.apparatus_id, card.procedure, detail, label)


def baseline_round(session: Session, lineup_id: UUID) -> Round | None:
    """Return the acceptance round that the baseline stands on, or None.

    The latest one that the owner has accepted; until there is one, the latest
    approved.
    """
    return baseline_of(
        session.scalars(select(Round).where(Round.lineup_id == lineup_id)).all()
    )


def baseline_of(rounds: Iterable[Round]) -> Round | None:
    """Return that one of a lineup's rounds which the baseline stands on, or None."""
    over = [r for r in rounds if r.kind == "acceptance" and r.state != "open"]
    return max(over, key=lambda r: (r.state == "accepted", r.number), default=None)


def baseline_values(
    session: Session, lineup_id: UUID, apparatus_id: UUID | None = None
) -> dict[Place, dict[str, Any]]:
    """Return the baseline's readings by place; empty without a baseline.

    With *apparatus_id* those of that apparatus only: a card that is refreshed
    after each entry must not read the whole round.
    """
    found = baseline_round(session, lineup_id)
    return round_values(session, found.id, apparatus_id) if found else {}


def round_values(
    session: Session, round_id: UUID, apparatus_id: UUID | None = None
) -> dict[Place, dict[str, Any]]:
    """Return the readings that hold in a round, or on one apparatus, by place."""
    cards = [
        card
        for card in round_cards(session, round_id)
        if apparatus_id in (None, card.apparatus_id)
    ]
    return values_of(gather_readings(session, cards).values())


def forecast_values(
    session: Session, rounds: Sequence[Round]
) -> list[dict[Place, dict[str, Any]]]:
    """Return of each round the readings whose trend is carried on, by place."""
    carried = [name for name, one in PROCEDURES.items() if one.forecast]
    cards = session.scalars(
        select(Card)
        .where(Card.round_id.in_([r.id for r in rounds]), Card.procedure.in_(carried))
        .options(selectinload(Card.points))
    ).all()
    facts = gather_readings(session, cards)
    return [
        values_of(
            (one for one in facts.values() if one.card.round_id == r.id),
            sources=False,
        )
        for r in rounds
    ]


def values_of(
    cards: Iterable[CardFacts], *, sources: bool = True
) -> dict[Place, dict[str, Any]]:
    """Return the readings that hold on *cards*, by place.

    Without *sources* it is left open whether a figure behind one is from memory,
    which has to be worked out.
    """
    values: dict[Place, dict[str, Any]] = {}
    for facts in cards:
        points = {point.id: point for point in facts.card.points}
        for reading in facts.current:
            held = reading.judgement
            values[place_of(facts.card, points[reading.point_id])] = {
                "text": reading.text,
                "unit": reading.unit,
                "verdict": held.verdict,
                "value": held.corrected,
                "value_unit": reading.unit and held.judged_by.body["unit"],
                "over_range": reading.low is not None and reading.high is None,
                "under_range": reading.high is not None and reading.low is None,
                "limit_low": held.limit_low,
                "limit_high": held.limit_high,
                "uncertainty": held.uncertainty,
                "recalled": sources and facts.say.recalled(held),
                "reading_id": str(reading.id),
                "at": stamp(reading.taken_at),
                "judged_again": judged_again(facts, reading),
                "rows": {n: v for n, v in reading.conditions.items() if n in SERIES},
            }
    return values


def baselines(
    session: Session, round_: Round, procedures: Iterable[str]
) -> dict[Place, Baseline]:
    """Return with what the rules of a round's points compare, by place.

    Only a maintenance round has any, and only for *procedures* whose rule asks for it:
    exact readings, as they were accepted.
    """
    wanted = [name for name in set(procedures) if PROCEDURES[name].against_baseline]
    found = baseline_round(session, round_.lineup_id)
    if round_.kind != "maintenance" or found is None or not wanted:
        return {}
    values = round_values(session, found.id)
    return {
        place: Baseline(
            value=one["value"],
            unit=one["value_unit"],
            expanded=one["uncertainty"],
            round=found.title,
        )
        for place, one in values.items()
        if place[1] in wanted and _exact(one)
    }


def _exact(value: dict[str, Any]) -> bool:
    known = value["value"] is not None and value["value_unit"] is not None
    return known and not (value["over_range"] or value["under_range"])


def add_baseline(
    cards: Iterable[dict[str, Any]],
    rows: Iterable[Card],
    values: dict[Place, dict[str, Any]],
) -> None:
    """Put the baseline beside each point of *cards* (the JSON of *rows*)."""
    for card, row in zip(cards, rows, strict=True):
        for shown, point in zip(card["points"], row.points, strict=True):
            shown["baseline"] = values.get(place_of(row, point))


def turned_over(
    session: Session, lineup_id: UUID, apparatus_id: UUID | None = None
) -> list[Round]:
    """Return the lineup's rounds that were turned over, oldest first.

    With *apparatus_id* those of other lineups too in which it was tested: its readings
    follow it when it moves.
    """
    mine: ColumnElement[bool] = Round.lineup_id == lineup_id
    if apparatus_id is not None:
        tested = select(Card.round_id).where(Card.apparatus_id == apparatus_id)
        mine = or_(mine, Round.id.in_(tested))
    return list(
        session.scalars(
            select(Round)
            .where(
                mine,
                Round.state.in_(("approved", "accepted")),
            )
            .options(joinedload(Round.lineup).joinedload(Lineup.site))
            .order_by(Round.opened_at)
        )
    )

"""The book of a round: the lines that its scopes and cards ask, and what they need."""

from collections.abc import Collection, Sequence
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session, selectinload

from models.criteria import safety as lines
from models.record.shapes.safety import CardLists, SafetyBook
from models.record.shapes.safety import Person as PersonShape
from models.schema import Card, Lineup, Person, Round
from models.services.planning.crew import crew_of
from models.services.safety.asked_of import asked_of
from models.services.safety.round_work import (
    planned_cards,
    withdrawn_cards,
    work_of,
)
from models.services.safety.site_settings import settings_of


def book_of_round(
    session: Session,
    round_: Round,
    person: Person | None = None,
    cards: Sequence[Card] | None = None,
) -> SafetyBook:
    """Return the book of a round; with *person*, the people of their firm there.

    *cards*: those of the round, where they are loaded already.
    """
    if cards is None:
        cards = planned_cards(session, round_)
    asked = asked_of(work_of(session, round_, cards))
    withdrawn = withdrawn_cards(session, round_)
    return {
        "settings": settings_of(round_.lineup.site),
        "governs": lines.governs(),
        "lines": asked.lines,
        "fields": lines.book_fields(),
        "registers": lines.registers(),
        "cautions": lines.cautions(),
        "changes": lines.changes(),
        "crew": asked.crew,
        "isolation": asked.isolation,
        "returning": lines.return_codes(),
        "point": asked.points,
        "cards": {
            card: _waiting_for(lists, withdrawn) for card, lists in asked.cards.items()
        },
        "lineups": _lineups(session, round_),
        "people": _people(session, round_, person),
    }


def _waiting_for(lists: CardLists, withdrawn: Collection[str]) -> CardLists:
    """Return the lists; nobody waits for a card that is out of the programme."""
    waits = [
        {**wait, "cards": [one for one in wait["cards"] if one not in withdrawn]}
        if "cards" in wait
        else wait
        for wait in lists["waits"]
    ]
    return {**lists, "waits": waits}


def _lineups(session: Session, round_: Round) -> dict[str, Any]:
    """Return the lineups of the site: a crew may work on several."""
    rows = session.scalars(
        select(Lineup)
        .where(Lineup.site_id == round_.lineup.site_id)
        .order_by(Lineup.name)
        .options(selectinload(Lineup.cells), selectinload(Lineup.sections))
    )
    return {str(row.id): _lineup(row) for row in rows}


def _lineup(row: Lineup) -> dict[str, Any]:
    return {
        "name": row.name,
        "gear": row.gear,
        "sections": [one.name for one in row.sections],
        "cells": {
            str(cell.id): {"number": cell.number, "name": cell.name, "bus": cell.bus}
            for cell in row.cells
        },
    }


def _people(
    session: Session, round_: Round, person: Person | None
) -> list[PersonShape]:
    if person is None:
        return []
    found = crew_of(session, person, round_.lineup)
    return [{"id": str(one.id), "name": one.name} for one in found]

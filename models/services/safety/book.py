"""The book of a round: the lines that its scopes and cards ask, and what they need."""

from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session, selectinload

from models.record.shapes.safety import Person as PersonShape
from models.record.shapes.safety import SafetyBook
from models.schema import Lineup, Person, Round
from models.services.planning.crew import crew_of
from models.services.safety.site_settings import settings_of


def book_of_round(
    session: Session, round_: Round, person: Person | None = None
) -> SafetyBook:
    """Return the book of a round; with *person*, the people of their firm there."""
    site = round_.lineup.site
    return {
        "settings": settings_of(site),
        "governs": "",
        "lines": {},
        "fields": {},
        "registers": {},
        "cautions": {},
        "changes": {},
        "crew": [],
        "isolation": [],
        "returning": [],
        "point": {},
        "cards": {},
        "lineups": _lineups(session, round_),
        "people": _people(session, round_, person),
    }


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

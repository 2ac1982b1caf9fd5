"""What a tablet needs of safety on a round, and what is new since it last asked."""

from datetime import datetime
from typing import Any, cast
from uuid import UUID

from sqlalchemy.orm import Session

from models.record.shapes.round_document import DocumentSafety
from models.record.shapes.safety import AnyAct, SafetyBook
from models.schema import Round
from models.services.keeping.log import stamp
from models.services.people.access import person_of, round_of
from models.services.safety.load_acts import (
    acts_in_force,
    acts_json,
    acts_since,
    cursor,
)


def safety_document(
    session: Session, round_: Round, book: SafetyBook, now: datetime
) -> DocumentSafety:
    """Return the part of the round document that safety rests on."""
    acts = acts_json(acts_in_force(session, round_, now))
    return {
        "book": book,
        "acts": cast("list[AnyAct]", acts),
        "cursor": cursor(session, round_),
        "now": stamp(now),
    }


def safety_news(
    session: Session, *, person_id: UUID, round_id: UUID, since: int, now: datetime
) -> dict[str, Any]:
    """Return the acts that arrived after the number *since*, and the newest number."""
    round_ = round_of(session, person_of(session, person_id), round_id)
    return news_of_safety(session, round_, since, now)


def news_of_safety(
    session: Session, round_: Round, since: int, now: datetime
) -> dict[str, Any]:
    """Return the same for who may see the round."""
    rows = acts_since(session, round_, since)
    newest = rows[-1].seq if rows else since
    return {
        "acts": acts_json(rows),
        "cursor": newest,
        "now": stamp(now),
        "site": str(round_.lineup.site_id),
    }

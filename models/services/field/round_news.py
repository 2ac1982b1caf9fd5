"""What is new on a round since a tablet last asked: acts of safety, and cards."""

from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.services.field.card_news import card_news
from models.services.people.access import person_of, round_of
from models.services.safety.document import news_of_safety


def round_news(
    session: Session,
    *,
    person_id: UUID,
    round_id: UUID,
    safety_since: int,
    cards_since: int,
    now: datetime,
) -> dict[str, Any]:
    """Return {acts, cursor, now, site, cards, cards_cursor, renew}.

    *safety_since*: the number of the last act that the tablet knows; *cards_since*: of
    the log. Where nothing is new this asks one indexed query for each.
    """
    round_ = round_of(session, person_of(session, person_id), round_id)
    news = card_news(session, round_, cards_since)
    return {
        **news_of_safety(session, round_, safety_since, now),
        "cards": news.cards,
        "cards_cursor": news.cursor,
        "renew": news.renew,
    }

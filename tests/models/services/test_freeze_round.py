"""The frozen round: the same every time, and complete."""

from typing import Any

from sqlalchemy import select

from models.schema import Confirmation, Round
from models.services.card_view import gather, round_cards
from models.services.freeze_round import content_digest
from models.services.seals_wanted import seals_wanted
from tests.models.services.tampering import change, without_triggers
from tests.scenario import (
    Work,
)


def content(work: Work) -> dict[str, Any]:
    session = work.session
    session.expire_all()
    round_ = session.get_one(Round, work.round_id)
    facts = list(gather(session, round_cards(session, round_.id)).values())
    return seals_wanted(session, round_, facts).content


def test_the_digest_does_not_depend_on_where_rows_lie(complete: Work) -> None:
    """Rows that were written at the same moment have an order of their own."""
    before = content_digest(content(complete))
    without_triggers(complete.session, "confirmation")
    ids = complete.session.scalars(select(Confirmation.id)).all()
    for row in ids[::7]:  # a row that is written anew moves, on PostgreSQL
        change(complete.session, "confirmation", "code = code", row)
    assert content_digest(content(complete)) == before

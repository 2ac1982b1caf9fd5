"""A day without signal comes in one call, and is taken as it was lived."""

from collections.abc import Callable
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from tests.scenario import DW, IR, Work

Sent = tuple[UUID, dict[str, Any]]


class LiveWork(Work):
    """Work that notes what was taken, entry by entry, in its order."""

    noted: list[Sent]

    def _arrive(self, person_id: UUID, entries: Any) -> list[Any]:
        answers = super()._arrive(person_id, entries)
        taken = zip(entries, answers, strict=True)
        self.noted += [(person_id, e) for e, a in taken if a["status"] == "stored"]
        return answers


def lived(session: Session) -> LiveWork:
    """Try the bus's insulation live, then at once the card that waits for it."""
    work = LiveWork.resume(session)
    work.noted = []
    with session.begin_nested() as live:
        work.fill("bus", IR, sign=False)
        work.fill("bus", DW, sign=False)
        live.rollback()
    session.expire_all()
    return work


def test_a_card_opens_by_the_insulation_that_came_in_the_same_call(
    session_at: Callable[[str], Session],
) -> None:
    session = session_at("opened")
    work = lived(session)
    people = {person for person, _ in work.noted}
    again = Work.resume(session)
    again.at = work.at
    assert len(people) == 1
    answers = again._arrive(people.pop(), [entry for _, entry in work.noted])
    refused = [answer["faults"] for answer in answers if answer["status"] != "stored"]
    assert refused == []

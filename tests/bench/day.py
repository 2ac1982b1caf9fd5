"""A tablet's outbox after days without signal: every act and reading, in its order.

What the crew gives is worked out by the reader of safety, as on the tablet; nothing is
stored meanwhile.
"""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from types import SimpleNamespace
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.record.safety import Safety
from models.schema import Card, Point, Round
from models.services.field.entry_marks import entry_digest
from models.services.keeping.log import stamp
from models.services.safety.round_safety import RoundSafety, safety_of_round
from seed_demo.crew import Json, Member
from seed_demo.safety_walk import SafetyWalk
from tests.scenario import CONDITIONS, FOUND, IR, SECOND, TECHNICIAN, Work, within

BEGAN_AGO = timedelta(hours=40)
SHIFT = timedelta(hours=8)
ACT_S, READING_S = 1.0, 10.0  # a quick crew


class HeardOnce(Safety):
    """A reader to which an act may be said twice: the walk says most itself."""

    def __init__(self, seen: RoundSafety, acts: Sequence[Json]) -> None:
        """*acts*: all that are known so far."""
        rows = seen.rows
        super().__init__(
            seen.book, acts, rows.readings, rows.signed, rows.cells, rows.found_good
        )
        self.ids = {act["id"] for act in acts}

    def hear(self, act: Any) -> None:
        """Take in an act that was not heard yet."""
        if act["id"] not in self.ids:
            self.ids.add(act["id"])
            super().hear(act)


class WalkFromMemory(SafetyWalk):
    """A crew that looks at what the tablet knows."""

    seen: RoundSafety

    def look(self) -> RoundSafety:
        """Return what stands now."""
        self._at = self.moment()
        return self.seen


class Day(Work):
    """The crew at work on a round on which nothing was done; `queue` is its outbox."""

    def __init__(self, session: Session, round_id: UUID) -> None:
        """Begin the shift."""
        super().__init__(session, round_id, datetime.now(UTC) - BEGAN_AGO)
        self.queue: list[Json] = []
        self.acts: list[Json] = []  # as the server will keep them
        self.seen = safety_of_round(session, session.get_one(Round, round_id))
        first, second = (Member(id=p.id, name=p.name) for p in (TECHNICIAN, SECOND))
        self.who = first
        self.crew = WalkFromMemory(
            session,
            round_id,
            crew=(first, second),
            found=FOUND,
            send=lambda _by, acts: self.keep(acts),
            moment=lambda: self.tick(seconds=ACT_S),
            wait=lambda seconds: self.tick(seconds=seconds),
        )
        self.crew.seen = self.seen
        self.seen.safety = HeardOnce(self.seen, [])

    def work(self) -> list[Json]:
        """Take every card; return what was recorded, as a tablet sends it."""
        ends = self.at + SHIFT
        for card in self.cards.values():
            if self.at > ends:
                self.crew.end_shift()
                ends = self.tick(hours=8) + SHIFT
            conditions = CONDITIONS[card.procedure]
            self.crew.open(card, self.who, conditions)
            for point, text in zip(card.points, within(card), strict=True):
                self.keep_reading(card, point, text)
            if card.procedure == IR:
                self.found_good(card)
            self.crew.finish(card, self.who, conditions)
        return [_as_sent(entry) for entry in self.queue]

    def keep(self, acts: list[Json]) -> None:
        """Keep acts, and go on by them."""
        self.queue += acts
        for act in acts:
            own = act | {"id": act["key"], "by": self.who.json, "device": ""}
            self.acts.append(own)
            self.seen.safety.hear(own)

    def keep_reading(self, card: Card, point: Point, text: str) -> None:
        """Keep a reading, and go on by it."""
        self.tick(seconds=READING_S)
        entry = self.reading(card, point, text)
        self.queue.append(entry)
        row = SimpleNamespace(
            id=entry["key"],
            card_id=card.id,
            taken_at=self.at,
            by_id=self.who.id,
            conditions=entry["conditions"],
        )
        self.seen.hear_reading(row)

    def found_good(self, card: Card) -> None:
        """Take note that the insulation is good: another card may wait for it."""
        turn = {"at": stamp(self.at), "good": True}
        self.seen.rows.found_good[str(card.id)] = [turn]
        self.seen.safety = HeardOnce(self.seen, self.acts)


def _as_sent(entry: Json) -> Json:
    made = {**entry, "offset_ms": 12, "heard_at": 0}
    return {**made, "digest": entry_digest(made)}

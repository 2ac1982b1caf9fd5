"""Judge what arrives from a tablet by the acts that the tablet knew."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from functools import cached_property
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.errors import Fault
from models.record.safety import Safety
from models.record.shapes.safety import SafetyBook
from models.schema import Card, Round, SafetyAct
from models.services.field.entry import EARLIEST
from models.services.people.access import has_role
from models.services.safety.act_rows import act_json
from models.services.safety.book import book_of_round
from models.services.safety.load_acts import acts_in_force
from models.services.safety.round_rows import (
    RoundRows,
    choice_of,
    insulation_good,
    reading_json,
    round_rows,
)
from models.services.safety.round_safety import reader
from models.services.safety.round_work import planned_cards
from models.services.safety.words import Names, names_of


class Arriving:
    """What one call of a tablet brings to a round; loaded when it is first asked.

    A tablet knows the acts that it made itself, and those up to the number that it
    heard last. What came elsewhere and later closes nothing of what arrives: it is
    kept, and listed by the times (`Safety.outside`).
    """

    def __init__(
        self, session: Session, round_: Round, *, device: str, since: datetime
    ) -> None:
        """*since*: when the first of what arrives was made."""
        self._session, self.round = session, round_
        self._device, self._since = device, since
        self._came: list[SafetyAct] = []
        self._readers: dict[int | None, Safety] = {}

    def reading_faults(
        self,
        card: Card,
        person_id: UUID,
        at: datetime,
        conditions: Mapping[str, Any],
        heard_at: int | None,
    ) -> list[Fault]:
        """Return why a card was closed for a reading, by what the tablet knew."""
        key = str(card.id)
        self._look_at_insulation(key)
        choice = choice_of(conditions, self.book["cards"].get(key))
        safety = self._knowing(heard_at)
        reasons = safety.reasons(key, str(person_id), at.isoformat(), choice)
        return [Fault(field="safety", message=self.names.say(one)) for one in reasons]

    @property
    def any_acts(self) -> bool:
        """Whether an act of safety stands or came that concerns the round."""
        return bool(self._came or self._stored)

    def act_faults(self, row: SafetyAct, heard_at: int | None) -> list[Fault]:
        """Return why an act is not taken; another lineup's is not judged here."""
        if row.lineup_id not in (None, self.round.lineup_id):
            return []
        act = act_json(row)
        lead = row.by is not None and has_role(row.by, "lead")
        return [
            Fault(field=one["field"], message=self.names.say(one))
            for one in self._knowing(heard_at).check(act, act["at"], lead=lead)
        ]

    def came(self, row: SafetyAct) -> None:
        """Take note of an act that was taken in this call."""
        self._came.append(row)
        for safety in self._readers.values():
            safety.hear(act_json(row))

    def read(self, row: Any) -> None:
        """Take note of a reading that was stored in this call."""
        if "rows" not in self.__dict__:
            return
        key = str(row.card_id)
        lists = self.book["cards"].get(key)
        readings = self.rows.readings.setdefault(key, [])
        readings.append(reading_json(row, lists, superseded=False))
        for safety in self._readers.values():
            safety.hear_reading(key, len(readings) - 1)
        self._looked_at.discard(key)

    @cached_property
    def book(self) -> SafetyBook:
        """The round's lines and lists."""
        return book_of_round(self._session, self.round, None, self._cards)

    @cached_property
    def rows(self) -> RoundRows:
        """What was read and signed before this call."""
        return round_rows(self._session, self.round, self.book, good=False)

    @cached_property
    def names(self) -> Names:
        """What cards and cells are called."""
        return names_of(self.book, self.round.lineup.site.zone, self._cards)

    @cached_property
    def _cards(self) -> list[Card]:
        return planned_cards(self._session, self.round)

    @cached_property
    def _stored(self) -> list[SafetyAct]:
        return acts_in_force(self._session, self.round, self._since)

    @cached_property
    def _looked_at(self) -> set[str]:
        return set()

    def _look_at_insulation(self, card: str) -> None:
        """Find out about the insulation that the card waits for."""
        lists = self.book["cards"].get(card)
        waits = lists["waits"] if lists else []
        cards = {one for wait in waits for one in wait.get("cards", ())}
        if new := cards - self._looked_at:
            found = insulation_good(self._session, {UUID(one) for one in new})
            self.rows.found_good |= found
            self._looked_at |= new
            self._readers.clear()

    def _knowing(self, heard_at: int | None) -> Safety:
        """Return what stood for a tablet that had heard up to this number."""
        if heard_at is not None and not self._hidden(heard_at):
            heard_at = None
        if heard_at not in self._readers:
            hidden = self._hidden(heard_at)
            rows = [one for one in self._stored if one.id not in hidden]
            acts = [act_json(one) for one in (*rows, *self._came)]
            self._readers[heard_at] = reader(self.book, acts, self.rows)
        return self._readers[heard_at]

    def _hidden(self, heard_at: int | None) -> set[UUID]:
        """Return the acts of others that the tablet had not heard of."""
        if heard_at is None:
            return set()
        return {
            one.id
            for one in self._stored
            if one.seq > heard_at and one.device != self._device
        }


def first_made(entries: Sequence[Mapping[str, Any]], now: datetime) -> datetime:
    """Return when the first of what arrives was made, as far as times can be read."""
    found = [now]
    for entry in entries:
        try:
            at = datetime.fromisoformat(str(entry.get("at")))
        except ValueError:
            continue
        if at.tzinfo is not None and at >= EARLIEST:
            found.append(at)
    return min(found)

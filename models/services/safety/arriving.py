"""Judge what arrives from a tablet by the acts that the tablet knew."""

from collections.abc import Collection, Iterable, Mapping
from datetime import datetime
from functools import cached_property
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.errors import Fault
from models.record.safety import Safety
from models.schema import Card, Round, SafetyAct
from models.services.people.access import has_role
from models.services.safety.act_rows import act_json
from models.services.safety.round_rows import choice_of, insulation_good
from models.services.safety.round_safety import RoundSafety, safety_of_round
from models.services.safety.round_work import planned_cards
from models.services.safety.words import Names, names_of


class Arriving:
    """What one call of a tablet brings to a round; loaded when it is first asked.

    A tablet knows the acts that it made itself, and those up to the number that it
    heard last. What came elsewhere and later closes nothing of what arrives: it is
    kept, and listed by the times (`Safety.outside`).
    """

    def __init__(self, session: Session, round_: Round, *, device: str) -> None:
        """*device*: the tablet that sends."""
        self._session, self.round, self._device = session, round_, device
        self._readers: dict[int, Safety] = {}  # by what the tablet had heard
        self._expected: list[str] = []
        self._tried: set[UUID] = set()  # insulation cards read since they were judged

    def expect(self, cards: Iterable[UUID]) -> None:
        """Say on which cards readings come: the day is then gone through once."""
        self._expected = [str(card) for card in cards]

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
        self._judge_insulation(self._waited_for(key))
        self.loaded.safety.watch(key)  # the answer says it of each of its readings
        choice = choice_of(conditions, self.loaded.book["cards"].get(key))
        reasons = self._knowing(heard_at).reasons(
            key, str(person_id), at.isoformat(), choice
        )
        return [Fault(field="safety", message=self.names.say(one)) for one in reasons]

    @property
    def any_acts(self) -> bool:
        """Whether an act of safety stands or came that concerns the round."""
        return bool(self.loaded.acts)

    def act_faults(self, row: SafetyAct, heard_at: int | None) -> list[Fault]:
        """Return why an act is not taken; another lineup's is not judged here."""
        if row.lineup_id not in (None, self.round.lineup_id):
            return []
        act = act_json(row)
        self._judge_insulation(self._waited_for(str(row.card_id)))
        lead = row.by is not None and has_role(row.by, "lead")
        return [
            Fault(field=one["field"], message=self.names.say(one))
            for one in self._knowing(heard_at).check(act, act["at"], lead=lead)
        ]

    def came(self, row: SafetyAct) -> None:
        """Take note of an act that was taken in this call."""
        self.loaded.hear(row)
        for safety in self._readers.values():
            safety.hear(act_json(row))

    def read(self, row: Any) -> None:
        """Take note of a reading that was stored in this call."""
        if "loaded" not in self.__dict__:
            return
        key, index = self.loaded.hear_reading(row)
        for safety in self._readers.values():
            safety.hear_reading(key, index)
        if key in self.loaded.rows.found_good:
            self._tried.add(row.card_id)

    def seen(self) -> dict[UUID, RoundSafety]:
        """Return the round's safety with what came, where it was loaded."""
        if "loaded" not in self.__dict__:
            return {}
        self._judge_insulation(self._tried)
        return {self.round.id: self.loaded}

    @cached_property
    def loaded(self) -> RoundSafety:
        """Book, acts and readings of the round, with what came in this call."""
        found = safety_of_round(self._session, self.round, cards=self._cards)
        for card in self._expected:
            found.safety.watch(card)
        return found

    @cached_property
    def names(self) -> Names:
        """What cards, cells and items of registers are called."""
        loaded, zone = self.loaded, self.round.lineup.site.zone
        return names_of(loaded.book, loaded.acts, zone, self._cards)

    @cached_property
    def _cards(self) -> list[Card]:
        return planned_cards(self._session, self.round)

    def _waited_for(self, card: str) -> set[UUID]:
        """Return the insulation cards tried in this call that a card waits for."""
        if not self._tried:
            return set()
        waits = self.loaded.book["cards"].get(card, {"waits": []})["waits"]
        named = {one for wait in waits for one in wait.get("cards", ())}
        return {tried for tried in self._tried if str(tried) in named}

    def _judge_insulation(self, asked: Collection[UUID]) -> None:
        """Find out whether the insulation that was tried in this call is good.

        Only where it is asked for: it takes the card whole.
        """
        if not asked:
            return
        for card, turns in insulation_good(self._session, self._tried).items():
            self.loaded.rows.found_good[card] = turns
            for safety in (self.loaded.safety, *self._readers.values()):
                safety.hear_found_good(card, turns)
        self._tried.clear()

    def _knowing(self, heard_at: int | None) -> Safety:
        """Return what stood for a tablet that had heard up to this number."""
        hidden = self._hidden(heard_at) if heard_at is not None else set()
        if heard_at is None or not hidden:
            return self.loaded.safety
        if heard_at not in self._readers:
            self._readers[heard_at] = self.loaded.knowing(hidden)
        return self._readers[heard_at]

    def _hidden(self, heard_at: int) -> set[str]:
        """Return the acts of others that the tablet had not heard of."""
        return {act for number, act in self._of_others if number > heard_at}

    @cached_property
    def _of_others(self) -> list[tuple[int, str]]:
        """Number and id of each act of another tablet; what comes now is its own."""
        numbered = zip(self.loaded.numbers, self.loaded.acts, strict=True)
        return [
            (number, act["id"])
            for number, act in numbered
            if act["device"] != self._device
        ]

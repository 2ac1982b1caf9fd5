"""What stands on a site, worked out from the acts: the one place that is asked."""

from bisect import bisect
from collections.abc import Collection, Mapping, Sequence
from typing import Any

from models.record.safety.card_standing import card_json
from models.record.safety.check import check
from models.record.safety.fault import FaultJson
from models.record.safety.fold import Event, events, take
from models.record.safety.people import person_key
from models.record.safety.reasons import Ask, Reason, reasons
from models.record.safety.site_standing import site_json
from models.record.safety.state import State
from models.record.safety.times import milliseconds

Json = Mapping[str, Any]
LAST = 2**62  # milliseconds: after all that is known


class Safety:
    """The acts of a site with the readings of its cards.

    *book*, *acts*: the shapes of `models.record.shapes.safety`. *readings*: by card
    `{"at", "by", "choice"}`, those that were superseded included; `by` a person or
    their key, `choice` the supply or method where the card has one. *signed*: when a
    card was signed, None while it is not. *cells*: the cell of each card. *found_good*:
    by insulation card, when it became good or stopped to be, `{"at", "good"}`.
    """

    def __init__(
        self,
        book: Json,
        acts: Sequence[Json],
        readings: Mapping[str, Sequence[Json]],
        signed: Mapping[str, str | None],
        cells: Mapping[str, str | None],
        found_good: Mapping[str, Sequence[Json]] | None = None,
    ) -> None:
        self._book, self._cells = book, cells
        self._acts, self._readings, self._signed = acts, readings, signed
        self._found_good = found_good or {}
        self._events = events(book, acts, readings, signed, self._found_good)
        self._watched: set[str] | None = set()  # None: every card
        self._begin()

    def _begin(self) -> None:
        """Begin the day again."""
        self._state, self._taken = State(self._book, self._cells), 0
        self._outside: dict[str, list[dict[str, Any]]] = {}  # of cards watched

    def watch(self, card: str) -> None:
        """Note of each reading of a card on the way whether it was open."""
        if self._watched is not None and card not in self._watched:
            self._watched.add(card)
            if self._taken and self._readings.get(card):  # one may be passed already
                self._begin()

    def site(self, at: str) -> dict[str, Any]:
        """Return what stands on the site (shape SiteStanding)."""
        return site_json(self._state_at(milliseconds(at)))

    def card(
        self,
        card: str,
        person: str,
        at: str,
        choice: str | None = None,
        known: Collection[str] | None = None,
    ) -> dict[str, Any]:
        """Return what stands for a card (shape CardStanding).

        *person*: the key of who records; *known*: the acts that were known there.
        """
        if known is not None:
            return self.knowing(known).card(card, person, at, choice)
        ms = milliseconds(at)
        return card_json(self._state_at(ms), Ask(card, person, ms, choice))

    def reasons(
        self, card: str, person: str, at: str, choice: str | None = None
    ) -> list[Reason]:
        """Return why a card is closed; empty: it is open for readings."""
        ms = milliseconds(at)
        return reasons(self._state_at(ms), Ask(card, person, ms, choice))

    def check(self, act: Json, at: str, *, lead: bool = False) -> list[FaultJson]:
        """Return what is wrong with an act that is not among these yet; empty: take it.

        Each fault is `{"field", "code", "facts"}`, its sentence `safety.refusal.` or
        `safety.reason.` and the code. *lead*: who says it has the role lead.
        """
        ms = milliseconds(at)
        return check(self._state_at(ms), act, ms, lead=lead)

    def hear(self, act: Json) -> None:
        """Take in one more act; only what is later than it is worked out anew."""
        self._acts = [*self._acts, act]
        self._add(events(self._book, [act], {}, {}, {}))

    def hear_reading(self, card: str, index: int) -> None:
        """Take in a reading that was added to those of its card, at this place."""
        row = self._readings[card][index]
        one = events(self._book, [], {card: [row]}, {}, {})[0]
        self._add([one._replace(arrived=index, value={**one.value, "index": index})])

    def hear_found_good(self, card: str, turns: Sequence[Json]) -> None:
        """Take in when an insulation card was found good, for what was known of it."""
        self._found_good = {**self._found_good, card: turns}
        stale = [
            at
            for at, event in enumerate(self._events)
            if event.kind == "found_good" and event.id == card
        ]
        for at in reversed(stale):
            del self._events[at]
        if stale and stale[0] < self._taken:
            self._begin()
        self._add(events(self._book, [], {}, {}, {card: turns}))

    def _add(self, new: Sequence[Event]) -> None:
        for event in new:
            place = bisect(self._events, event[:4], key=lambda one: one[:4])
            self._events.insert(place, event)
            if place < self._taken:
                self._begin()

    def knowing(self, known: Collection[str]) -> "Safety":
        """Return the same site for somebody who knows these acts only."""
        acts = [act for act in self._acts if act["id"] in known]
        return Safety(
            self._book,
            acts,
            self._readings,
            self._signed,
            self._cells,
            self._found_good,
        )

    def outside(self, card: str) -> list[dict[str, Any]]:
        """Return the readings of a card that were taken while it was closed.

        Each is `{"reading": its place in the list, "reasons"}`, by all acts now known.
        """
        if self._watched is not None and card not in self._watched:
            self._watched = None  # who asks for one card asks for others too
            self._begin()
        self._state_at(LAST)
        return sorted(self._outside.get(card, []), key=lambda row: row["reading"])

    def _state_at(self, ms: int) -> State:
        """Return the state at a moment; later moments go on from earlier ones."""
        if self._taken and self._events[self._taken - 1].at > ms:
            self._begin()
        while self._taken < len(self._events) and self._events[self._taken].at <= ms:
            event = self._events[self._taken]
            if event.kind == "reading":
                self._look(event)
            take(self._state, event)
            self._taken += 1
        return self._state

    def _look(self, event: Event) -> None:
        """Note a reading of a card that is watched, where the card was closed."""
        card = event.value["card"]
        watched = self._watched is None or card in self._watched
        if watched and (why := _closed_by(self._state, event)):
            row = {"reading": event.value["index"], "reasons": why}
            self._outside.setdefault(card, []).append(row)


def _closed_by(state: State, event: Event) -> list[Reason]:
    row = event.value
    key = person_key(row["by"]) or ""
    return reasons(state, Ask(row["card"], key, event.at, row.get("choice")))

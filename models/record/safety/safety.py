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
        self._state = State(book, cells)
        self._taken = 0
        self._outside: dict[str, list[dict[str, Any]]] | None = None

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

    def _add(self, new: Sequence[Event]) -> None:
        self._outside = None
        for event in new:
            place = bisect(self._events, event[:4], key=lambda one: one[:4])
            self._events.insert(place, event)
            if place < self._taken:
                self._state, self._taken = State(self._book, self._cells), 0

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
        if self._outside is None:
            self._outside = self._readings_outside()
        return sorted(self._outside.get(card, []), key=lambda row: row["reading"])

    def _readings_outside(self) -> dict[str, list[dict[str, Any]]]:
        """Go through the day once, and ask at each reading whether it was open."""
        state = State(self._book, self._cells)
        found: dict[str, list[dict[str, Any]]] = {}
        for event in self._events:
            if event.kind == "reading" and (why := _closed_by(state, event)):
                row = {"reading": event.value["index"], "reasons": why}
                found.setdefault(event.value["card"], []).append(row)
            take(state, event)
        return found

    def _state_at(self, ms: int) -> State:
        """Return the state at a moment; later moments go on from earlier ones."""
        if self._taken and self._events[self._taken - 1].at > ms:
            self._state, self._taken = State(self._book, self._cells), 0
        while self._taken < len(self._events) and self._events[self._taken].at <= ms:
            take(self._state, self._events[self._taken])
            self._taken += 1
        return self._state


def _closed_by(state: State, event: Event) -> list[Reason]:
    row = event.value
    key = person_key(row["by"]) or ""
    return reasons(state, Ask(row["card"], key, event.at, row.get("choice")))

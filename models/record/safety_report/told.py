"""What a report is worked out from: the acts of a round, and how things are called."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, tzinfo
from functools import cached_property
from typing import Any

Json = Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportCard:
    """A card of the round; *cell* is the id of its cell.

    Each reading says `at` (RFC 3339), `by` (a person's id), `name` and `point`, and
    may say `covered`: the list in force before was answered before it.
    *confirmed_after*: so was what that list asks after the readings.
    """

    id: str
    sheet: int
    cell: str
    readings: Sequence[Json] = field(default_factory=list)
    confirmed_after: bool = False

    @property
    def by_scopes(self) -> list[Json]:
        """The readings that the scopes have to cover."""
        return [one for one in self.readings if not one.get("covered")]


@dataclass(frozen=True, kw_only=True)
class Told:
    """The acts of a round in order of time, with its cards, lineup and time zone.

    *lineup* is the id of the round's lineup; acts of other crews, clearances and
    cards are left out.
    """

    book: Json
    every_act: Sequence[Json]
    cards: Sequence[ReportCard]
    lineup: str
    zone: tzinfo
    now: str  # RFC 3339, of what is printed

    @cached_property
    def crews(self) -> dict[str, int]:
        """Shift numbers by crew, in the order in which they were opened."""
        opened = [
            act["crew"]
            for act in _in_order(self.every_act)
            if act["act"] in ("open_crew", "extend_crew")
            and self.lineup in act["lineups"]
        ]
        return {crew: n for n, crew in enumerate(dict.fromkeys(opened), start=1)}

    @cached_property
    def isolations(self) -> dict[str, Json]:
        """The acts that opened the clearances on the lineup, by clearance."""
        return {
            act["isolation"]: act
            for act in _in_order(self.every_act)
            if act["act"] == "open_isolation" and act["lineup"] == self.lineup
        }

    @cached_property
    def cells(self) -> dict[str, Json]:
        """The cells of the lineup, from the left: number, name, bus."""
        cells: dict[str, Json] = self.book["lineups"][self.lineup]["cells"]
        return cells

    @cached_property
    def card_by_id(self) -> dict[str, ReportCard]:
        """The cards of the round."""
        return {card.id: card for card in self.cards}

    @cached_property
    def acts(self) -> list[Json]:
        """The acts of the round's crews, clearances, cells and cards, and stops."""
        return [act for act in _in_order(self.every_act) if self._concerns(act)]

    def _concerns(self, act: Json) -> bool:
        if act["act"] in ("stop", "release"):
            return True
        of = about(act)
        known = (self.crews, self.isolations, self.cells, self.card_by_id)
        return any(of in things for things in known)

    def of_kind(self, *kinds: str) -> Iterator[Json]:
        """Yield the acts of some kinds, in order of time."""
        return (act for act in self.acts if act["act"] in kinds)

    def lines(self, code: str, of: str) -> Iterator[Json]:
        """Yield the confirmations of a line for one crew, clearance, cell or card."""
        for act in self.of_kind("line"):
            if (act["code"], act["of"]) == (code, of) and act["state"] == "confirmed":
                yield act

    def where(self, of: str) -> str:
        """Return what somebody calls a crew, a clearance, a cell or a card."""
        if of in self.crews:
            return f"shift {self.crews[of]}"
        if of in self.isolations:
            return f"clearance {self.isolations[of]['clearance']}"
        if of in self.cells:
            return f"cell {self.cells[of]['number']}"
        if of in self.card_by_id:
            return f"card {self.card_by_id[of].sheet}"
        return "the site"

    def clock(self, at: str, beside: str) -> str:
        """Return a time at the site, its day only where it is not that of *beside*."""
        local, other = self.local(at), self.local(beside)
        if local.date() == other.date():
            return f"{local:%H:%M}"
        return f"{local:%Y-%m-%d %H:%M}"

    def local(self, at: str) -> datetime:
        """Return a time as it is at the site."""
        return datetime.fromisoformat(at).astimezone(self.zone)


ABOUT = ("of", "crew", "isolation", "cell", "card", "stop")


def about(act: Json) -> str:
    """Return the id of what an act is about."""
    if act["act"] in ("enter", "leave"):
        return str(act["cell"])
    return next(str(act[name]) for name in ABOUT if name in act)


def noted_of(act: Json) -> dict[str, Any]:
    """Return what was noted with a line; a blank note may not have been sent."""
    return dict(act.get("noted") or {})


def who(act: Json) -> Json:
    """Return who says it: the one signed in on the tablet, or another on it."""
    person: Json = act.get("person") or act["by"]
    return person


def said_by(act: Json) -> str:
    """Return who says it, and on whose tablet where that is another's."""
    name, on = who(act)["name"], act["by"]["name"]
    return name if name == on else f"{name}, on {on}'s tablet"


def person_key(person: Json) -> str:
    """Return what a person is known by: their id, or their name in lower case."""
    return person["id"] or f"name:{person['name'].casefold()}"


def _in_order(acts: Sequence[Json]) -> list[Json]:
    return sorted(acts, key=_order)


def _order(act: Json) -> tuple[datetime, bool, datetime, str]:
    """Order by time, then by arrival, what has not arrived last."""
    at = datetime.fromisoformat(act["at"])
    arrived = act.get("arrived_at")
    return at, arrived is None, datetime.fromisoformat(arrived or act["at"]), act["id"]

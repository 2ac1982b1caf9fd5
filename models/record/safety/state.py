"""What the acts up to a moment have made of a site.

Plain values that the fold changes in order of time; `stands` of crew, isolation and
cell is kept up at each act, everything else is worked out when it is asked for.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from models.record.safety.given import Lines
from models.record.safety.places import Places

Json = Mapping[str, Any]


@dataclass(slots=True)
class Held:
    """Whether a scope stands, since when and by whom; what it lapsed by."""

    stands: bool = False
    stood: bool = False  # whether it ever stood
    since: int | None = None
    by: str | None = None
    cause: str | None = None
    cause_at: int | None = None
    ended: int | None = None

    def stand(self, at: int, by: str) -> None:
        """Let it stand from this moment on."""
        self.stands, self.stood, self.since, self.by = True, True, at, by
        self.cause, self.cause_at = None, None

    def fall(self, word: str, at: int) -> None:
        """Let it stand no more, by a change word."""
        self.stands, self.cause, self.cause_at = False, word, at


@dataclass(slots=True)
class Member:
    """Somebody of a crew: *since* when their own lines were complete."""

    key: str
    name: str
    since: int | None = None
    left: int | None = None


@dataclass(slots=True)
class Crew(Held):
    """A shift of people."""

    id: str = ""
    lineups: list[str] = field(default_factory=list)
    planned_end: str = ""
    opened: int = 0
    people: dict[str, Member] = field(default_factory=dict)


@dataclass(slots=True)
class Isolation(Held):
    """A clearance on a lineup or a section of it.

    *walk_due*: when it last became due that each lock and ground is walked to.
    """

    id: str = ""
    lineup: str = ""
    section: str | None = None
    clearance: str = ""
    opened: int = 0
    walk_due: int | None = None
    returned: list[str] = field(default_factory=list)
    returning_since: int | None = None
    returning_cells: list[str] | None = None  # None: the whole


@dataclass(slots=True)
class Point(Held):
    """A cell for its holder; *inside* from entering to leaving."""

    cell: str = ""
    holder: str = ""
    holder_key: str = ""
    crew: str = ""
    isolation: str | None = None
    entered: int | None = None
    inside: bool = False


@dataclass(slots=True)
class Card:
    """What was done on a card."""

    readings: int = 0
    last_reading: int | None = None
    last_activity: int | None = None
    choice: str | None = None  # of the latest reading
    made_safe: int | None = None  # first line of after since the latest reading
    dc_off: int | None = None
    dc_s: float = 0.0
    last_discharge: int | None = None  # P03a given before the latest reading


@dataclass(slots=True)
class Item:
    """An item of a register as it was last written."""

    item: str
    fields: Json
    by: str
    at: int
    back: dict[str, Any] | None = None

    @property
    def gone(self) -> bool:
        """Whether it was taken off the register."""
        return bool(self.fields.get("gone"))


@dataclass(slots=True)
class Suspension:
    """A line that does not hold for other cards while one card works.

    A ground that is off, a spring that is charged. *grounds*: None where the line
    of the card's own cell is meant.
    """

    code: str
    card: str
    cell: str | None
    grounds: list[str] | None
    until: list[str]
    since: int


@dataclass(slots=True)
class StopInForce:
    """A stop that nobody has released."""

    stop: str
    by: str
    at: int
    device: str


class State:
    """Everything that stands on a site at one moment."""

    def __init__(self, book: Json, cells: Mapping[str, str | None]) -> None:
        self.book = book
        self.places = Places(book["lineups"], cells)
        self.lines = Lines(book["lines"])
        self.crews: dict[str, Crew] = {}
        self.isolations: dict[str, Isolation] = {}
        self.points: dict[str, Point] = {}
        self.cards: dict[str, Card] = {}
        self.registers: dict[tuple[str, str], dict[str, Item]] = {}
        self.suspensions: list[Suspension] = []
        self.stops: dict[str, StopInForce] = {}
        self.worked: dict[str, int] = {}  # by cell: last entry or line of a test
        self.found_good: dict[str, bool] = {}  # by card: its insulation
        self.at_work: dict[str, set[str]] = {}  # by person: cards with lines of theirs
        self.own_of_crew = _of_each_person(book, "crew")
        self.own_of_isolation = _of_each_person(book, "isolation")

    def card(self, card: str) -> Card:
        """Return what was done on a card, nothing at first."""
        return self.cards.setdefault(card, Card())

    def register(self, register: str, of: str) -> list[Item]:
        """Return the items of a register that are not gone."""
        items = self.registers.get((register, of), {})
        return [item for item in items.values() if not item.gone]

    def covered(self, isolation: Isolation) -> list[str]:
        """Return the cells under a clearance that were not handed back."""
        cells = self.places.section(isolation.lineup, isolation.section)
        return [cell for cell in cells if cell not in isolation.returned]

    def lists(self, card: str) -> Json:
        """Return the lists of a card; a card the book does not know has none."""
        none: Json = {"by": None, "lists": {}, "rests_on": [], "waits": []}
        lists: Json = self.book["cards"].get(card, none)
        return lists


def _of_each_person(book: Json, scope: str) -> list[str]:
    lines = book["lines"]
    return [code for code in book[scope] if "person" in lines[code]["each"]]

"""The lines as they were last given, and how they lapse.

A line counts while it is the latest of its kind and no event that touches it came
after it. An event at the very moment of a line leaves it alone.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from models.record.safety.people import person_key, speaker, speaker_key
from models.record.safety.times import milliseconds

Json = Mapping[str, Any]
STATES = {"confirmed": "given", "not_applicable": "not_applicable"}
LineKey = tuple[str, str | None, str | None]  # code, item, person


@dataclass(slots=True)
class Given:
    """A line as it was given, and what it lapsed by; *at* in milliseconds."""

    code: str
    item: str | None
    by: str
    by_key: str
    at: int
    state: str  # given, not_applicable, overridden
    noted: Json
    reason: str | None
    lapsed_by: str | None = None
    lapsed_at: int | None = None

    @property
    def counts(self) -> bool:
        """Whether nothing that it rests on changed after it."""
        return self.lapsed_at is None

    def lapse(self, word: str, at: int) -> bool:
        """Lapse by a change word; return whether it counted until now."""
        if self.lapsed_at is not None or at <= self.at:
            return False
        self.lapsed_by, self.lapsed_at = word, at
        return True


def given_by(act: Json) -> Given:
    """Return the line that an act of kind line or override gives."""
    return Given(
        code=act["code"],
        item=act.get("item"),
        by=speaker(act)["name"],
        by_key=speaker_key(act),
        at=milliseconds(act["at"]),
        state=STATES.get(act.get("state", ""), "overridden"),
        noted=act.get("noted") or {},
        reason=act.get("reason"),
    )


class Lines:
    """The latest line of each kind, by scope and what the scope is of."""

    def __init__(self, book_lines: Mapping[str, Any]) -> None:
        self._book = book_lines
        self._given: dict[tuple[str, str], dict[LineKey, Given]] = {}
        self._set_aside: dict[tuple[str, str], dict[str, Given]] = {}

    def give(self, act: Json) -> Given:
        """Take the line of an act in the place of the one before it."""
        given = given_by(act)
        each = self._book[given.code]["each"] if given.code in self._book else []
        person = given.by_key if "person" in each else None
        place = self._given.setdefault((act["scope"], act["of"]), {})
        place[(given.code, given.item, person)] = given
        return given

    def set_aside(self, act: Json) -> None:
        """Take an override: it counts for every item of its line until it lapses."""
        place = self._set_aside.setdefault((act["scope"], act["of"]), {})
        place[act["code"]] = given_by(act)

    def find(
        self,
        scope: str,
        of: str,
        code: str,
        item: str | None = None,
        person: str | None = None,
    ) -> Given | None:
        """Return the line that stands for this place: given, or set aside."""
        line = self._given.get((scope, of), {}).get((code, item, person))
        aside = self._set_aside.get((scope, of), {}).get(code)
        if aside is None or not aside.counts:
            return line or aside
        if line is not None and line.counts and line.at >= aside.at:
            return line
        return aside

    def counts(
        self,
        scope: str,
        of: str,
        code: str,
        item: str | None = None,
        person: str | None = None,
    ) -> bool:
        """Return whether the line of this place was given and did not lapse."""
        line = self.find(scope, of, code, item, person)
        return line is not None and line.counts

    def aside(self, scope: str, of: str, code: str) -> Given | None:
        """Return the override of a line or condition that was given last."""
        return self._set_aside.get((scope, of), {}).get(code)

    def of(self, scope: str, of: str) -> Iterator[Given]:
        """Yield all lines of a place, the ones set aside as well."""
        yield from self._given.get((scope, of), {}).values()
        yield from self._set_aside.get((scope, of), {}).values()

    def people(self, scope: str, of: str, code: str) -> list[Given]:
        """Return the lines of one code that each person gives, in order of time."""
        lines = self._given.get((scope, of), {})
        found = [g for (one, _, person), g in lines.items() if one == code and person]
        return sorted(found, key=lambda given: given.at)

    def lapse(
        self, scope: str, of: str, word: str, at: int, item: str | None = None
    ) -> None:
        """Lapse the lines that a change touches: by their word, and by its item."""
        for given in self.of(scope, of):
            touched = item is None or given.item is None or given.item == item
            if touched and self.rests_on(given.code, word):
                given.lapse(word, at)

    def lapse_all(self, scope: str, of: str, word: str, at: int) -> None:
        """Lapse every line of a place; what set a condition aside stays."""
        for given in self.of(scope, of):
            if given.code in self._book:
                given.lapse(word, at)

    def rests_on(self, code: str, word: str) -> bool:
        """Return whether a line lapses by this change word."""
        return code in self._book and word in self._book[code]["lapses"]

    def places(self, scope: str) -> list[str]:
        """Return what lines of this scope were given for."""
        return [of for one, of in self._given if one == scope]


def person_noted(given: Given | None, field: str) -> str | None:
    """Return the key of the person that a line names in one of its fields."""
    return person_key(given.noted.get(field)) if given else None

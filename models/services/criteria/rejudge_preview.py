"""What judging again would change: shown before anything is stored."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.judging.batch import WORD_CODES
from models.schema import Apparatus, Card, Cell, Point
from models.services.criteria.rejudge_findings import Findings, Touched, findings
from models.services.criteria.rejudge_scope import Scope
from models.services.criteria.rule_differences import differences
from models.services.keeping.rules import read_rule, stored_rules
from models.services.people.access import person_of, require


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A reading whose verdict would change, or that stands for many alike."""

    site: str
    lineup: str
    round: str
    turned_over: bool
    cell: str
    apparatus: str
    procedure: str
    point: str
    text: str
    unit: str | None
    card_id: UUID
    reading_id: UUID
    was: str
    now: str
    was_asked: Sequence[str]
    now_asked: Sequence[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Alike:
    """Readings that keep their verdict, and whose rule changes in the same way."""

    procedure: str
    count: int
    limit_moves: bool
    was_asked: Sequence[str]
    now_asked: Sequence[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Preview:
    """What would change; nothing of it is stored."""

    scope: Scope
    what: str
    digest: str
    counts: dict[str, int]
    lines: Sequence[Line]
    alike: Sequence[Alike]

    @property
    def nothing(self) -> bool:
        """Whether every rule is the one in force already."""
        return not (
            self.counts["points"] or self.counts["readings"] - self.counts["untouched"]
        )


def preview(
    session: Session, *, person_id: UUID, kind: str, subject_id: UUID
) -> Preview:
    """Return every reading whose verdict would change, and counts of the rest.

    Raises ForbiddenError for a technician, NotFoundError for what is not theirs.
    """
    person = person_of(session, person_id)
    require(person, "judge again")
    found = findings(session, person, kind, subject_id)
    say = _Said(session, found)
    return Preview(
        scope=found.scope,
        what=found.what,
        digest=found.digest,
        counts=found.counts,
        lines=list(_Lines(session, found, say).lines()),
        alike=_alike(found, say),
    )


class _Said:
    """What the old and the new rule of a reading ask differently; each pair once."""

    def __init__(self, session: Session, found: Findings) -> None:
        digests = {one.reading.rule for one in found.touched}
        self._rules = {
            row.digest: read_rule(row) for row in stored_rules(session, digests)
        }
        self._said: dict[Any, tuple[list[str], list[str]]] = {}

    def __call__(self, one: Touched) -> tuple[list[str], list[str]]:
        stored = one.reading.rule
        given = one.reading.conditions
        words = {name: given[name] for name in WORD_CODES if name in given}
        key = (stored, one.to.digest, tuple(sorted(words.items())))
        if key not in self._said:
            old = self._rules[stored]
            self._said[key] = differences(old, one.to.rule, words)
        return self._said[key]


def _alike(found: Findings, say: _Said) -> list[Alike]:
    """Return the readings that keep their verdict, by what their rules say."""
    counted: dict[Any, int] = {}
    for one in found.touched:
        if not one.moves:
            was, now = say(one)
            procedure = found.cards[one.reading.card_id].procedure
            key = (not one.limit_moves, procedure, tuple(was), tuple(now))
            counted[key] = counted.get(key, 0) + 1
    return [
        Alike(
            procedure=procedure,
            count=count,
            limit_moves=not keeps,
            was_asked=was,
            now_asked=now,
        )
        for (keeps, procedure, was, now), count in sorted(counted.items())
    ]


class _Lines:
    """Readings whose verdict would change, with their places in words."""

    def __init__(self, session: Session, found: Findings, say: _Said) -> None:
        self.found, self.say = found, say
        self.rounds = {r.id: r for r in found.scope.rounds}
        self.moved = [one for one in found.touched if one.moves]
        self.places = _named(session, {one.reading.card_id for one in self.moved})
        self.points = _labels(session, [one.reading.point_id for one in self.moved])

    def lines(self) -> Iterable[Line]:
        """Yield a line a reading."""
        for one in self.moved:
            reading = one.reading
            card = self.found.cards[reading.card_id]
            round_ = self.rounds[card.round_id]
            was, now = self.say(one)
            cell, apparatus = self.places[card.id]
            yield Line(
                site=round_.lineup.site.name,
                lineup=round_.lineup.name,
                round=round_.title,
                turned_over=round_.state != "open",
                cell=cell,
                apparatus=apparatus,
                procedure=card.procedure,
                point=self.points[reading.point_id],
                text=reading.text,
                unit=reading.unit,
                card_id=card.id,
                reading_id=reading.id,
                was=reading.verdict,
                now=one.verdict,
                was_asked=was,
                now_asked=now,
            )


PARTS = 5000  # ids in one statement


def _named(session: Session, ids: set[UUID]) -> dict[UUID, tuple[str, str]]:
    found = {}
    wanted = list(ids)
    for at in range(0, len(wanted), PARTS):
        statement = (
            select(Card.id, Cell.number, Cell.name, Apparatus.label)
            .join(Card.cell)
            .join(Card.apparatus)
            .where(Card.id.in_(wanted[at : at + PARTS]))
        )
        for key, number, name, label in session.execute(statement):
            found[key] = (f"{number} {name}", label)
    return found


def _labels(session: Session, ids: Sequence[UUID]) -> dict[UUID, str]:
    found: dict[UUID, str] = {}
    for at in range(0, len(ids), PARTS):
        statement = select(Point.id, Point.label).where(
            Point.id.in_(ids[at : at + PARTS])
        )
        for key, label in session.execute(statement):
            found[key] = label
    return found
